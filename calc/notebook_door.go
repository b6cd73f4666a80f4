package calc

type askNotebook struct {
	askKnown
	Text string `json:"text"`
}

const exampleNotebook = `{
  "text": "Whipped base\nA: heat to 165 F, 20 min\ndistilled water 212 g\n130 g betaine solution\nglycerin 2 tbsp\nSCI 25 g\nB: melt\nstearic acid - 1,5 oz\nC: cool to 100 F\nparfum 2.5 g\nphenoxyethanol blend 5 g\nlast time it was firm the next day"
}
`

func doNotebook(request []byte) (any, *FieldError) {
	var ask askNotebook
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	k, err := ask.askKnown.read()
	if err != nil {
		return nil, err
	}
	return Notebook(ask.Text, k), nil
}
