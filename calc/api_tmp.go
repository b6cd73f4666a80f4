package calc

func IngredientList(in []WentIn, k Known, region string) (INCIList, *FieldError) {
	return INCIList{}, nil
}
func IngredientListOf(f Formula, k Known, region string) (INCIList, *FieldError) {
	return INCIList{}, nil
}
func LabelContentOf(a LabelAsk, f Formula, k Known) (LabelContent, *FieldError) {
	return LabelContent{}, nil
}
