package calc

// ruleWearEyes: goggles and gloves before anything that burns or irritates eyes or skin as supplied is opened.
func ruleWearEyes(e *evidence) []Finding { return e.wear("wear-eyes", "eye", "corrosive", "skin") }
