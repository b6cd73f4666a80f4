package book

// The structs below are the words of contract-stall.ts.

// PlaceRow is a place in the list of places.
type PlaceRow struct {
	Key    string `json:"key"`
	Name   string `json:"name"`
	What   string `json:"what"`
	Inside string `json:"inside"`
	Jars   int    `json:"jars"`
	Where  string `json:"where"`
}

// Standing is how many of a batch's jars are at a place.
type Standing struct {
	Batch     string `json:"batch"`
	Code      string `json:"code"`
	Product   string `json:"product"`
	Word      string `json:"word"`
	Place     string `json:"place"`
	PlaceName string `json:"placeName"`
	Count     int    `json:"count"`
	State     string `json:"state"`
	Says      string `json:"says"`
	Barred    string `json:"barred"`
}

// Tile is one product on the table.
type Tile struct {
	Product string      `json:"product"`
	Batch   string      `json:"batch"`
	Batches []TileBatch `json:"batches"`
	Word    string      `json:"word"`
	Left    string      `json:"left"`
	Of      string      `json:"of"`
	Price   string      `json:"price"`
	Barred  string      `json:"barred"`
	CanSell bool        `json:"canSell"`
	// Sum says how Left came about.
	Sum string `json:"sum"`
}

// StallRow is a row of what happened at a place.
type StallRow struct {
	Entry  string `json:"entry"`
	What   string `json:"what"`
	Title  string `json:"title"`
	Value  string `json:"value"`
	Detail string `json:"detail"`
	At     string `json:"at"`
	By     string `json:"by"`
	Struck bool   `json:"struck"`
	Where  string `json:"where"`
	Clash  string `json:"clash"`
}

// StallView is the view stall.
type StallView struct {
	Place     string `json:"place"`
	Name      string `json:"name"`
	Taken     string `json:"taken"`
	TakenSays string `json:"takenSays"`
	// TakenSum adds up the sales of the day by their prices.
	TakenSum string     `json:"takenSum"`
	Tiles    []Tile     `json:"tiles"`
	Rows     []StallRow `json:"rows"`
	Says     string     `json:"says"`
	Undo     string     `json:"undo"`
}

// PlacesView is the view places: where every jar stands.
type PlacesView struct {
	Places    []PlaceRow `json:"places"`
	Standings []Standing `json:"standings"`
}

// lookArgs are the arguments of batch.look; every word may be "".
type lookArgs struct {
	Batch  string `json:"batch"`
	Firm   string `json:"firm"`
	Colour string `json:"colour"`
	Smell  string `json:"smell"`
	Level  string `json:"level"`
	Top    string `json:"top"`
	PH     string `json:"ph"`
	Note   string `json:"note"`
	// Of some products only, and how the pH was read.
	Fluff    string `json:"fluff,omitempty"`
	Grit     string `json:"grit,omitempty"`
	Method   string `json:"method,omitempty"`
	Dilution string `json:"dilution,omitempty"`
}

// TileBatch is one of the batches behind a tile.
type TileBatch struct {
	Batch string `json:"batch"`
	Code  string `json:"code"`
	Left  string `json:"left"`
	// Sum says how Left came about, with its bounds where sales named no batch.
	Sum string `json:"sum"`
	// Barred is why this batch must not be sold, "" when it may.
	Barred string `json:"barred"`
}
