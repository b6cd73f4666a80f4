package calc

type askReadCSV struct {
	askKnown
	Text string `json:"text"`
	// Name is for a formula that the file does not name, often the name of the file.
	Name string `json:"name"`
}

const exampleReadCSV = `{
  "name": "Soft wash",
  "text": "Phase;Zutat;INCI;Menge %;Preis\nA;Distilled water;Aqua;q.s.;\nA;Betaine solution;;30,0;4,20\nA;Glycerin;Glycerin;5;\nB;;Decyl Glucoside;\"10,5\";\nB;Preservative of grandmother;;1;\nSumme;;;100;\n"
}
`

func doReadCSV(request []byte) (any, *FieldError) {
	var ask askReadCSV
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	k, err := ask.askKnown.read()
	if err != nil {
		return nil, err
	}
	return FormulasFromCSV(ask.Text, ask.Name, k), nil
}
