package sheet

import (
	"fmt"
	"testing"
)

// shortWritings are those of hasty hands and of other countries; see [writings].
var shortWritings = []struct{ column, cells, want string }{
	{"placed_on", `M 7/14|M 7/14/25|7/14 6:30a|7/14 7a|7/14/25 7 am|7/14 Mon|Mo 7/14|M 7/14 6:45a`, "placed_on=2025-07-14"},
	{"placed_on", `F 7/18|Fr 7/18|7/18 Fri|F. 7/18/25`, "placed_on=2025-07-18"},
	{"placed_on", `Sa 7/19|Sat 7/19|S 7/19|7/19 6:30a`, "placed_on=2025-07-19"},
	{"placed_on", `F 7/14|Th 7/14`, "!"}, // a Monday
	{"reinforcement", `#4 RB 18|4s@18|#4 18oc|4s @ 18|#4 rb @ 18`, "reinforcement=rebar bar=#4 bar_spacing_in=18"},
	{"reinforcement", `3s@16|#3 RB 16|#3 16oc`, "reinforcement=rebar bar=#3 bar_spacing_in=16"},
	{"reinforcement", `wire/fib|msh+fib|mesh & fibre|wire + fib|msh/fbr`, "reinforcement=mesh+fiber"},
	{"reinforcement", `fib|FIBER|fbr|poly fibre|fibres`, "reinforcement=fiber"},
	{"reinforcement", `nil|0|none|no reo|unreinf.`, "reinforcement=none"},
	{"reinforcement", `N12 @ 250|N12 @ 250 EW|N12 @ 250mm|N12-250 both ways|N12 at 250 e.w.|N12 250 c/c|N12@250`, "reinforcement=rebar bar=N12 bar_spacing_in=9.84252"},
	{"reinforcement", `N10 @ 300|N10-300 both ways|N10 300 crs`, "reinforcement=rebar bar=N10 bar_spacing_in=11.81102"},
	{"reinforcement", `Y10 @ 300|y10 300 both ways`, "reinforcement=rebar bar=Y10 bar_spacing_in=11.81102"},
	{"reinforcement", `H12 @ 200`, "reinforcement=rebar bar=H12 bar_spacing_in=7.87402"},
	{"reinforcement", `SL72 on chairs|SL72|SL72 mesh`, "reinforcement=mesh bar~sl72"},
	{"reinforcement", `SL72 & fibre|SL72 + fibres|SL72 & fibres`, "reinforcement=mesh+fiber bar~sl72"},
	{"reinforcement", `slab mesh|square mesh|mesh, chaired`, "reinforcement=mesh"},
	{"bar", `#4, 18 both ways|#4 @ 18"|#4 every 18 in|number 4 at 18|1/2" at 18`, "bar=#4 bar_spacing_in=18"},
	{"bar", `#4|number 4|half inch`, "bar=#4"},
	{"use", `pto|PTO|Patio|alfresco|Alfresco slab|terrace|back patio|verandah`, "use=patio"},
	{"use", `Drvwy|DRVWY|dw|d'way|drv|Dw|driveway slab|drive|parking pad`, "use=driveway"},
	{"use", `sdwk|Sdwk|wlk|WLK|footpath|side path|path|swlk|sidewlk|walk|front path`, "use=walkway"},
	{"use", `Shed flr|shed|SHED|garden shed|shed slab|shed pad|shed base`, "use=shed slab"},
	{"use", `Gar flr|gar|Garg|GARG|dbl garage|double garage|garage slab|gar. floor|grg`, "use=garage slab"},
	{"use", `Aprn|APRN|crossover|driveway crossover|apron|approach|vehicle crossing`, "use=apron"},
	{"method", `no - buggy|buggy|motor buggy|BUGGY`, "method=buggy"},
	{"method", `no - wheelbarrow|whlbarrow|barrows|barrowed|wheelbarow|barrow`, "method=barrow"},
	{"method", `line|line pump|boom|boom pump|static line`, "method=pump"},
	{"method", `off the chute|Chute|chute|straight off the truck|right off the chute`, "method=chute"},
	{"leftover_yd", `half yd back|half|1/2 yd|half yard back`, "leftover_yd=0.5"},
	{"leftover_yd", `qtr yd|qtr|quarter|1/4 yd back|¼ yd back|1/4`, "leftover_yd=0.25"},
	{"leftover_yd", `nil|none|0|no`, "leftover_yd=0"},
	{"leftover_yd", `lil bit|couple of barrows|a wheelbarrow or so|some|little bit`, "!"},
	{"delivered_yd", `two trucks, 10 and 4|10 + 4|two loads, 10 and 4|2 trucks: 10 & 4|10 and 4`, "delivered_yd=14"},
	{"delivered_yd", `4 and a half|4½|four and a half|4.5 yards`, "delivered_yd=4.5"},
	{"air_temp_f", `cool 59|59 cold|59 @2p|59 @ 2P|NICE 59|59 nice|HOT 59|59 HOT|59 at 2pm|overcast 59°|59, rain after 3 pm|59°F, clear|59 and cloudy|sunny, 59`, "air_temp_f=59"},
	{"air_temp_f", `75, wind 15 mph|wind 15 mph, 75`, "air_temp_f=75 wind_mph=15"},
	{"air_temp_f", `HOT|drizzle|cold|nice 680|ask`, "!"},
	{"labor_hours", `3 guys 5.5|3 guys 5:30|3x5:30|3 x 5.5h|3 men x 5.5 hrs|3 of us x 5.5|3 Guys 5.5|3 x 5.5 hrs`, "crew_size=3 labor_hours=16.5"},
	{"labor_hours", `2 x 5.5h + 1 x 5.5h|2 men x 5.5 hrs + 1 x 5.5|16.5h|16.5`, "labor_hours=16.5"},
	{"labor_hours", `chk w Mo|Tiny has the book|see book`, "!"},
	{"size", `two of them, 12 x 10 each|2@12x10|2 @ 12 x 10|two 12x10|2 pads 12x10|2 no. 12x10|2 of 12x10|12x10 (two of them)|12x10 twice`, "area_sqft=240"},
	{"size", `16x14+6x4|16 x 14 plus 6 x 4|16x14 + 6x4`, "area_sqft=248"},
	{"size", `40*20|40X20|800sf|800 SF|40' x 20'|40 by 20`, "area_sqft=800"},
	{"thickness_in", `4-5|4½|4.5`, "thickness_in=4.5"},
	{"joint_spacing_ft", `10' OC tool|10 tool|tool 10|10' tooled`, "joint_spacing_ft=10 joint_cut=tooled"},
	{"joint_spacing_ft", `10 oc SAW|saw 10|10' OC saw|10 saw|10' OC  SAW`, "joint_spacing_ft=10 joint_cut=saw"},
	{"joint_spacing_ft", `10oc|10' OC|10|9 by 10|10x9|10 ft`, "joint_spacing_ft=10"},
	{"joint_spacing_ft", `match the neighbor's|engineer's dwg S02|as existing`, "!"},
	{"contract_price", `1.9K|1.9k|1900`, "contract_price=1900.00"},
	{"contract_price", `8.95k + 350 co|8950+350 xtra|8.95k + 350 extra|8950 + 350 var|8950 + 350 variation`, "contract_price=8950.00 change_orders=350.00"},
	{"callback_on", `scaling 4/7/25 $150|4/7/25 scaling $150`, "callback_on=2025-04-07 callback_kind=scaling callback_cost=150.00"},
	{"callback_on", `crk 4/30/25 $150|4/30/25 crk $150`, "callback_on=2025-04-30 callback_kind=crack callback_cost=150.00"},
	{"callback_on", `15.8.25, settled|15.8.25 settled`, "callback_on=2025-08-15 callback_kind=settlement"},
	{"callback_on", `nil|nil to date|no|none to date|0`, ""},
	{"callback_cost", `free|n/c`, "callback_cost=0.00"},
	{"visits.cost", `nothing|free|n/c|no charge`, "cost=0.00"},
	{"visits.finding", `our truck left ruts in the lawn`, "finding=other note=our truck left ruts in the lawn"},
	{"visits.finding", `broke the sprinkler line`, "finding=other note=broke the sprinkler line"},
	{"visits.finding", `ask Ray about it|?|call her`, "!"},
	{"mix_psi", `N25|25MPa|25 MPa|S25|C25|N25 grade`, "mix_psi=3625.94344"},
	{"mix_psi", `25`, "!"},
}

// TestCallWithoutItsYear gives a call the first such day behind its pour, and no
// day where there is no pour to count from; a fraction is none.
func TestCallWithoutItsYear(t *testing.T) {
	rows := slabs(10, func(i int, area, depth, neat float64) string {
		called := []string{"no", "crk 12/4 $150", "6/9 puddles", "1/20 scaling", "settled 1/2 in", "settled 1/2\""}[i%6]
		return fmt.Sprintf("J%02d,11/%d/24,patio,%.0f,4,%.2f,%s", i, i+1, area, quarter(neat*1.05), called)
	})
	g := read(t, "log.csv", "job,poured,what,sf,thick,yds used,callback\n"+rows, Options{})
	equal(t, "called", g.column("callback_on")[:6], "", "2024-12-04", "2025-06-09", "2025-01-20", "", "")
	equal(t, "what for", g.column("callback_kind")[:6], "", "crack", "ponding", "scaling", "settlement", "settlement")
}
