package reading

// The remarks on plugs.
const (
	CutOff          = "cut off"          // not wholly in the photo
	Covered         = "covered"          // something lies on it
	OutOfFocus      = "out of focus"     // the photo is too blurred there
	UnderNeighbours = "under neighbours" // the plant's place lies under its neighbours' leaves
	GrownTogether   = "shared"           // the plant has grown into a neighbour

	ExcludedByHand = "excluded by hand"
	EmptyByHand    = "empty by hand"
	PlantedByHand  = "planted by hand"
	IncludedByHand = "included by hand"
	GridByHand     = "grid by hand"
)
