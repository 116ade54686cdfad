package analysis

import (
	"fmt"

	"pourback/ingest/record"
)

// Reinforcement compares slabs with mesh and slabs with rebar.
type Reinforcement struct {
	MeshVsRebar MeshVsRebar `json:"mesh_vs_rebar"`
}

// MeshVsRebar is the comparison in risk and in money.
type MeshVsRebar struct {
	Mesh               int    `json:"mesh_placements"`
	Rebar              int    `json:"rebar_placements"`
	RawDifference      Figure `json:"raw_difference"`
	AdjustedMesh       Figure `json:"adjusted_risk_mesh"`
	AdjustedRebar      Figure `json:"adjusted_risk_rebar"`
	AdjustedDifference Figure `json:"adjusted_difference"`
	MeshCheaper        Figure `json:"probability_mesh_cheaper"`
	CostMesh           Figure `json:"cost_per_sqft_mesh"`
	CostRebar          Figure `json:"cost_per_sqft_rebar"`
	PlacementsNeeded   Figure `json:"placements_needed"`
}

// mostUnknown is the share of slabs without a known joint spacing above which
// steel and spacing cannot be told apart.
const mostUnknown = 0.2

func reinforcement(h *record.History) *Reinforcement {
	var m MeshVsRebar
	unknownSpacing := 0
	for i := range h.Placements {
		p := &h.Placements[i]
		switch p.Reinforcement {
		case "mesh":
			m.Mesh++
		case "rebar":
			m.Rebar++
		default:
			continue
		}
		if !p.JointSpacingFt.OK {
			unknownSpacing++
		}
	}
	f := later("the comparison of mesh and rebar")
	switch n := m.Mesh + m.Rebar; {
	case m.Mesh == 0 || m.Rebar == 0:
		f = unknown("%s", missingArm(m))
	case float64(unknownSpacing) > mostUnknown*float64(n):
		f = unknown("joint spacing is unknown for %d of %d slabs: the records cannot tell the steel from the spacing", unknownSpacing, n)
	}
	for _, each := range []*Figure{&m.RawDifference, &m.AdjustedMesh, &m.AdjustedRebar, &m.AdjustedDifference,
		&m.MeshCheaper, &m.CostMesh, &m.CostRebar, &m.PlacementsNeeded} {
		*each = f
	}
	return &Reinforcement{MeshVsRebar: m}
}

func missingArm(m MeshVsRebar) string {
	return fmt.Sprintf("%d slabs with mesh and %d with rebar: a comparison needs both", m.Mesh, m.Rebar)
}
