package main

import (
	"testing"

	"pourback/ingest/store/storetest"
)

// TestFixOfEveryTable corrects a row of each table by what its key says, and says
// what there is where a row is not named clearly.
func TestFixOfEveryTable(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		inFolder(t, map[string]string{
			"placements.csv": "job_no,placement,placed_on,use,area_sqft,thickness_in\nJ/1,A,2025-06-03,driveway,800,4\nJ/1,B,2025-06-03,walkway,200,4\n",
			"loads.csv":      "job_no,placement,ticket_no,yards\nJ/1,A,881,9\nJ/1,A,882,1.5\nJ/1,B,881,2.5\n",
			"delays.csv":     "job_no,placement,cause,minutes\nJ/1,A,plant,30\n",
			"labor.csv":      "job_no,placement,worked_on,crew,task,hours,rate\nJ/1,A,2025-06-03,Heron,place,20,31\n",
			"costs.csv":      "job_no,item,actual_amount\nJ/1,concrete,1800\nJ/1,pump,420\n",
			"visits.csv":     "job_no,placement,seen_on,why,finding\nJ/1,A,2025-09-01,planned,sound\n",
		})
		pb := func(args ...string) result { return call(t, append(args, "--db", dsn)...) }
		pb("ingest", "placements.csv", "loads.csv", "delays.csv", "labor.csv", "costs.csv", "visits.csv").want(t, exitDone)

		pb("fix", "J/1/A/882", "yards=2 1/2 yd", "--table", "loads").want(t, exitDone, "J/1 A 882, yards: 2.5, was 1.5", "kept as batch 7")
		pb("fix", "J/1/882", "water_added_gal=5", "--table", "loads").want(t, exitDone, "water_added_gal: 5, was missing")
		pb("fix", "J/1/881", "yards=8", "--table", "loads").want(t, exitFailed, "name one row of loads", "J/1/A/881, J/1/A/882, J/1/B/881")
		pb("fix", "J/1/A/883", "yards=8", "--table", "loads").want(t, exitFailed, "name one row of loads")
		pb("fix", "J/1", "minutes=35 min", "--table", "delays").want(t, exitDone, "J/1 A 1, minutes: 35, was 30")
		pb("fix", "J/1/A/2025-06-03/place", "hours=22", "rate=", "--table", "labor").want(t, exitDone, "hours: 22, was 20", "rate: missing, was 31.00")
		pb("fix", "J/1/concrete", "actual_amount=$1,850.00", "--table", "costs").want(t, exitDone, "actual_amount: 1850.00, was 1800.00")
		pb("fix", "J/1/A/2025-09-01/planned", "finding=crack", "crack_kind=drying", "--table", "visits").want(t, exitFailed, "name one row of visits")
		pb("fix", "J/1/2025-09-01", "finding=crack", "crack_kind=drying", "--table", "visits").want(t, exitDone, "finding: crack, was sound")
		pb("fix", "J/1/pump", "actual_amount=420", "--table", "costs").want(t, exitDone, "420.00 is right as it is")

		pb("fix", "J/1/A/881", "ticket_no=9", "--table", "loads").want(t, exitFailed, "is what the record is known by")
		pb("fix", "J/1/A/881", "yards=", "--table", "loads").want(t, exitFailed, "nothing kept", "yards", "missing")
		pb("fix", "J/1/A/881", "yards=900", "--table", "loads").want(t, exitFailed, "nothing kept", "more than 100")
		pb("fix", "J/2", "yards=9", "--table", "loads").want(t, exitFailed, "did you mean J/1?")
		pb("fix", "J/1", "yards=9", "--table", "load").want(t, exitFailed, "did you mean loads?")
		pb("undo", "8").want(t, exitDone, "1 given back")
		pb("undo", "7").want(t, exitDone, "1 given back")
		pb("check").want(t, exitDone, "Every record is as it was written")
	})
}
