// Package house holds the tests of the house's own rules: which way imports run, what the engine carries, how files are
// named and how long they grow. It has no code of its own.
package house
