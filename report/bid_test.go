package report

import (
	"pourback/analysis/bid"
)

var (
	own      = bid.Basis{From: bid.FromRecords, N: 37, Says: "37 driveways on record"}
	practice = bid.Basis{From: bid.FromPractice, Says: "common practice, no published source"}
	guide    = bid.Basis{From: bid.FromPractice, Says: "24 to 36 times the thickness (CSA A23.1-94 §20.2.1)"}
	spec     = bid.Basis{From: bid.FromSpec}
	onPaper  = bid.Basis{From: bid.FromDrawing}
)
