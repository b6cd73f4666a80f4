package calc

type askQR struct {
	Payload string `json:"payload"`
}

type qrAnswer struct {
	Version int `json:"version"`
	// Side counts modules without the quiet zone of 4 on each side.
	Side  int    `json:"side"`
	MinMM string `json:"minMM"`
	// Modules has a row for each line, # for dark.
	Modules []string `json:"modules"`
}

const exampleQR = `{
  "payload": "HTTPS://STILLROOM.EXAMPLE/J/7K3QX04M"
}
`

func doQR(request []byte) (any, *FieldError) {
	var ask askQR
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	modules, version, minMM, err := QR(ask.Payload)
	if err != nil {
		return nil, err
	}
	out := qrAnswer{Version: version, Side: len(modules), MinMM: minMM}
	for _, row := range modules {
		line := make([]byte, len(row))
		for i, dark := range row {
			line[i] = ' '
			if dark {
				line[i] = '#'
			}
		}
		out.Modules = append(out.Modules, string(line))
	}
	return out, nil
}
