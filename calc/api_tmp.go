package calc

func LabelContentOf(a LabelAsk, f Formula, k Known) (LabelContent, *FieldError) { return LabelContent{}, nil }
