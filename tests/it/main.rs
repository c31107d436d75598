//! The tests that see the program from outside: one module a subject.

mod tidy_house;
