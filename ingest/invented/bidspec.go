package invented

import _ "embed"

// BidSpec is the spec of a bid that the company is asked for, as a file has it.
//
//go:embed bid.yaml
var BidSpec []byte
