//! The fairpull calculations for browsers and Node.
