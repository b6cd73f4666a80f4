// Package matter holds the things that a formula is made of: per cents, masses, substances and ingredients as supplied,
// each figure with the source that it came from. It knows no rules; calc judges, calc/given fills in the everyday list.
package matter
