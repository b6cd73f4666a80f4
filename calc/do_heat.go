package calc

const exampleHeat = `{
  "formula": {
    "name": "A balm that is heated too little and too much",
    "phases": [
      {"letter": "A", "treatment": {"do": "melt", "to": "55 C", "holdMin": ""}},
      {"letter": "B", "treatment": {"do": "cool", "to": "60 C", "holdMin": ""}}
    ],
    "lines": [
      {"id": "stearic", "phase": "A", "ingredient": "stearic-50", "percent": "10"},
      {"id": "wax", "phase": "A", "ingredient": "beeswax", "percent": "20"},
      {"id": "oil", "phase": "A", "ingredient": "sunflower-oil", "qs": true},
      {"id": "scent", "phase": "B", "ingredient": "my-scent", "percent": "1"}
    ]
  },
  "ingredients": [
    {"key": "my-scent", "name": "my scent", "inci": "Parfum", "functions": ["scent"], "composition": [{"inci": "Parfum", "percent": "100"}], "flashPoint": "62 C", "highest": "40 C", "source": "its safety data sheet"}
  ]
}
`

func doHeat(request []byte) (any, *FieldError) {
	return judgeBy(request, "base", "added-hot", "melts", "flammable", "grit-hot", "wear-hot")
}
