package say

// spanishSiteEntry is what the site says of entries at the crew's forms, in Spanish.
// See es.go for how to correct it.
var spanishSiteEntry = map[string]string{
	"This came in before. It is on record.":                    "Esto ya había llegado. Está registrado.",
	"fill it in":                                               "hay que llenarlo",
	"“{value}” is no number here; write it like 4.5":           "“{value}” no es un número; escribirlo como 4.5",
	"“{value}” is no time of day; write 6:30, 6:30am or 18:30": "“{value}” no es una hora; escribir 6:30, 6:30am o 18:30",
	"“{value}” is no day; write it like 2026-07-14":            "“{value}” no es un día; escribirlo como 2026-07-14",
	"“{value}” is not understood":                              "“{value}” no se entiende",
	"before an earlier time of this truck; check both":         "antes que una hora anterior de este camión; revisar las dos",
	"that lies in the future":                                  "eso está en el futuro",
	"deeper than the slab is thick":                            "más profundo que el espesor de la losa",
	"more than was delivered":                                  "más de lo entregado",
	"{what}: {wrong}":                                          "{what}: {wrong}",
	"{what}: on record is {is}, you entered {yours}.":          "{what}: está registrado {is}, usted puso {yours}.",
	"Somebody else wrote it otherwise meanwhile. Both are kept, and the office settles it.": "Mientras tanto otra persona lo apuntó distinto. Se guardan los dos y la oficina decide.",
}
