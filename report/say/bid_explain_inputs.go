package say

import (
	"pourback/analysis/bid"
	"pourback/analysis/trade"
)

// Input names a number that goes into a figure.
func (w Explained) Input(in bid.Input) string {
	switch in.Set.Name {
	case "":
	case bid.SetConcrete, bid.SetMesh, bid.SetRebar, bid.SetFiber:
		return w.say("price of {what}", with{"what": w.SettingName(in.Set)})
	default:
		return w.SettingName(in.Set)
	}
	if in.Name == bid.InPiece {
		return w.say("{what} ({how})", with{"what": w.PieceName(in.Piece), "how": w.PieceHow(in.Piece)})
	}
	if name, ok := in.Name.PlacementName(); ok {
		return Clean(name, ShortName)
	}
	if name, ok := in.Name.LineOf(); ok {
		return w.LineName(bid.CostName(name))
	}
	if share, ok := in.Name.CostAt(); ok {
		return w.say("cost that {share} of jobs stay under", with{"share": w.Percent(share)})
	}
	for _, of := range []func(bid.InputName) string{w.concreteInput, w.riskInput, w.costInput, w.priceInput} {
		if said := of(in.Name); said != "" {
			return said
		}
	}
	return Clean(string(in.Name), ShortName)
}

func (w Explained) concreteInput(name bid.InputName) string {
	switch name {
	case bid.InArea:
		return w.text("area")
	case bid.InThickness:
		return w.text("thickness")
	case bid.InPerYd:
		if w.Units.Si {
			return Count(1000)
		}
		return Count(trade.FootSquareInchesPerYd3)
	case bid.InHundred:
		return Count(100)
	case bid.InNeat:
		return w.text("neat volume")
	case bid.InUsed:
		return w.text("expected use")
	case bid.InWaste:
		return w.text("waste on average")
	case bid.InWasteYd:
		return w.text("expected waste")
	case bid.InSafetyYd:
		return w.text("extra against running short")
	case bid.InOverNeat:
		return w.text("order over the neat volume")
	case bid.InOrder:
		return w.text("order")
	case bid.InExtraYd:
		return w.text("extra load, on average")
	case bid.InLeftover:
		return w.text("leftover")
	case bid.InPumped:
		return w.text("volume pumped")
	}
	return ""
}

func (w Explained) riskInput(name bid.InputName) string {
	switch name {
	case bid.InHours:
		return w.text("hours")
	case bid.InPace:
		return w.text("pace for such a slab")
	case bid.InTaskShare:
		return w.text("share of the hours")
	case bid.InClogs:
		return w.text("clogs")
	case bid.InClogRate:
		return w.text("rate of clogs")
	case bid.InEachClog:
		return w.text("minutes a clog")
	case bid.InClogMin:
		return w.text("minutes lost to clogs")
	case bid.InOtherMin:
		return w.text("minutes of other delays")
	case bid.InMinutes:
		return w.text("minutes of waiting")
	case bid.InMinPerHour:
		return Count(60)
	case bid.InMonthsPerYear:
		return Count(12)
	case bid.InWaitCost:
		return w.text("cost of waiting")
	case bid.InCallRate:
		return w.text("callbacks a year")
	case bid.InCallbacks:
		return w.text("callbacks")
	case bid.InEachCall:
		return w.text("cost of each")
	case bid.InReserve:
		return w.text("reserve")
	}
	return ""
}

func (w Explained) costInput(name bid.InputName) string {
	switch name {
	case bid.InEntered:
		return w.text("as it stands")
	case bid.InAsKept:
		return w.text("as it was kept")
	case bid.InCost:
		return w.text("cost")
	case bid.InShortFee:
		return w.text("short-load fee")
	case bid.InChanceShort:
		return w.text("chance to run short")
	case bid.InRunsShort:
		return w.text("cost of running short")
	case bid.InPrice:
		return w.text("price of it")
	case bid.InPumpHours:
		return w.text("hours of the pump")
	case bid.InWaitShare:
		return w.text("share that was waiting")
	case bid.InCut:
		return w.text("length of joints")
	case bid.InForms:
		return w.text("length of forms")
	case bid.InByWeight:
		return w.text("weight beside the usual grid")
	case bid.InBeforeLean:
		return w.text("all other lines")
	case bid.InLean:
		return w.text("how past bids turned out")
	case bid.InRest:
		return w.text("luck of the draws")
	case bid.InRoundedUp:
		return w.text("rounded up")
	case bid.InOther:
		return w.text("the rest")
	}
	return ""
}

func (w Explained) priceInput(name bid.InputName) string {
	switch name {
	case bid.InTotal:
		return w.text("cost of the job")
	case bid.InLoaded:
		return w.text("cost with overhead")
	case bid.InLessMargin:
		return w.text("what the margin leaves")
	case bid.InThePrice:
		return w.text("price")
	case bid.InAsked:
		return w.text("price asked")
	case bid.InLeft:
		return w.text("left over the cost")
	case bid.InMargin:
		return w.text("margin")
	case bid.InPerArea:
		return w.text("price by area")
	case bid.InLosing:
		return w.text("simulated jobs at a loss")
	case bid.InDrawn:
		return w.text("simulated jobs")
	case bid.InLoss:
		return w.text("chance of a loss")
	}
	return ""
}
