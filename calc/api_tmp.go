package calc

import "github.com/shopspring/decimal"

func SurfactantsOf(f Formula, k Known) Surfactants                                           { return Surfactants{} }
func PHBars(f Formula, k Known) PHWindow                                                     { return PHWindow{} }
func Solubility(inci string, milliC int64) (gramsPer100 decimal.Decimal, from Cite, ok bool) { return }
func GritsOf(f Formula, k Known) Grits                                                       { return Grits{} }
func IngredientList(in []WentIn, k Known, region string) (INCIList, *FieldError) {
	return INCIList{}, nil
}
func IngredientListOf(f Formula, k Known, region string) (INCIList, *FieldError) {
	return INCIList{}, nil
}
func LabelContentOf(a LabelAsk, f Formula, k Known) (LabelContent, *FieldError) {
	return LabelContent{}, nil
}
