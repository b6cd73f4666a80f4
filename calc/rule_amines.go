package calc

import "github.com/shopspring/decimal"

const amineSource = "Reg. (EC) 1223/2009 Annex III 61 and 62 (from memory)"

// ruleAmines (K7): amines with what gives nitrite can form nitrosamines; triethanolamine in what stays on the skin has a limit.
func ruleAmines(e *evidence) []Finding {
	amine := e.anyOf("Triethanolamine", "Diethanolamine", "Cocamide DEA", "Lauramide DEA", "Cocamide MEA", "Ethanolamine", "TEA-Lauryl Sulfate")
	if amine == nil {
		return nil
	}
	line := first(amine)
	f := Finding{Rule: "amines", Level: Stop, Subject: line, Phase: e.phaseOf(line), Figure: show(amine.Percent) + " %", Source: amineSource}
	nitrite := e.anyOf("2-Bromo-2-Nitropropane-1,3-Diol", "5-Bromo-5-Nitro-1,3-Dioxane", "Sodium Nitrite")
	switch tea := e.amount("Triethanolamine"); {
	case nitrite != nil:
		f.Says, f.Limit, f.Do = e.nameLines(amine.Lines)+" with "+e.nameLines(nitrite.Lines)+" can form nitrosamines, which can cause cancer", "never together", "exchange one of the two"
	case e.f.Wash == "leave-on" && tea.GreaterThan(decimal.New(25, -1)):
		f.Says, f.Figure, f.Limit, f.Do = "more triethanolamine than the EU and UK allow in a product that stays on the skin", show(tea)+" %", "2.5 %", "take less of it, or another base"
	default:
		return nil
	}
	return []Finding{f}
}
