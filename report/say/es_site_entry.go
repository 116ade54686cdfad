package say

// spanishSiteEntry is what the site says of entries at the crew's forms, in Spanish.
// See es.go for how to correct it.
var spanishSiteEntry = map[string]string{
	"This came in before. It is on record.":           "Esto ya había llegado. Está registrado.",
	"{what}: {wrong}":                                 "{what}: {wrong}",
	"{what}: on record is {is}, you entered {yours}.": "{what}: está registrado {is}, usted puso {yours}.",
	"Somebody else wrote it otherwise meanwhile. Both are kept, and the office settles it.": "Mientras tanto otra persona lo apuntó distinto. Se guardan los dos y la oficina decide.",
}
