//! A figure with its basis: notation, and the path from one basis to another.
