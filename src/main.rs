//! The thin binary: hands the command line to the library and exits with its code.

fn main() {}
