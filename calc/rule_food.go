package calc

import "strings"

// foods are words of things to eat: a product that looks, smells or is called like food may be eaten by a child.
var foods = strings.Fields("cake cupcake cookie biscuit donut doughnut candy chocolate fudge toffee icecream sorbet jelly jam marmalade yoghurt yogurt milkshake smoothie pudding custard frosting icing macaron truffle sundae lollipop lolly juice lemonade pie brownie muffin waffle pancake")

// ruleFood (C13): look-alikes of food.
func ruleFood(e *evidence) []Finding {
	if f := foodIn(e.f.Name); f != nil {
		return []Finding{*f}
	}
	return nil
}

// foodIn judges a name or a text of a label, nil when it names no food.
func foodIn(text string) *Finding {
	name := strings.NewReplacer("ice cream", "icecream", "ice-cream", "icecream", "whipped cream", "icecream").Replace(strings.ToLower(text))
	for _, w := range strings.FieldsFunc(name, func(r rune) bool { return r < 'a' || r > 'z' }) {
		if contains(foods, strings.TrimSuffix(w, "s")) || contains(foods, w) {
			return &Finding{Rule: "food", Level: Care, Figure: "“" + text + "”", Says: "it is called like food: what looks, smells or is packed like food and could be eaten by mistake may not be sold",
				Source: "Dir. 87/357/EEC; Reg. (EC) 1223/2009 Art. 3; UK SI 1989/1291 (read at second hand)", Do: "take another name; never a food tub, a food mould or a food picture"}
		}
	}
	return nil
}
