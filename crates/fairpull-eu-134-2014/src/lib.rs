//! Net engine power of L-category vehicles to (EU) 134/2014 and 95/1/EC.
