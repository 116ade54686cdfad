// Package spec reads what a bid is asked for: a short YAML file, or single
// values from flags or a form. Its keys are columns of tables of its own, most
// of them those of the record files, and its values are read as cells of record
// files are: with units, synonyms and every problem at once.
package spec

import "pourback/ingest/record"

// Spec is a bid as asked for. What was not said is missing; what stands in for
// it is for the analysis to say.
type Spec struct {
	Job        Job
	Placements []Placement
}

// Job is what is asked of the whole job.
type Job struct {
	JobNo, Site string
	Month       string
	Crew        string
	HaulMin     record.Number
	note        string
}

// Placement is one stretch of concrete to bid on.
type Placement struct {
	Placement string
	Use       string
}
