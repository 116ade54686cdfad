package say

// spanish is what the sheets of a pour say in Spanish, by the English message:
// the words of the trade in the southwestern United States and Mexico, with
// infinitives where a crew is told what to do. No native speaker has reviewed it
// yet; to correct a word is to correct it here, in one place.
var spanish = map[string]string{
	"Pour-day sheet":                   "Hoja del día del colado",
	"Pour day":                         "Día del colado",
	"The concrete":                     "El concreto",
	"Joints":                           "Juntas",
	"Take care":                        "Cuidado",
	"The slab":                         "La losa",
	"Write down":                       "Apuntar",
	"Placement":                        "Tramo",
	"Area":                             "Área",
	"Thickness":                        "Espesor",
	"Neat volume":                      "Volumen neto",
	"covered":                          "cubierto",
	"Use, reinforcement, base, method": "Uso, refuerzo, base, método",
	"Translation not yet reviewed by a native speaker.": "Traducción sin revisar por hablante nativo.",
	"Local codes and a licensed engineer decide.":       "Mandan el reglamento local y el ingeniero con licencia.",

	"{area} of {use}":            "{use} de {area}",
	"{first} and {last}":         "{first} y {last}",
	"{low} to {high}":            "{low} a {high}",
	"1 panel|{n} panels":         "1 tablero|{n} tableros",
	"no reinforcement":           "sin refuerzo",
	"Bid made as of {day}":       "Cotización con datos al {day}",
	"Bid {id}, made as of {day}": "Cotización {id}, con datos al {day}",

	"once in 100|{n} times in 100": "1 de cada 100 veces|{n} de cada 100 veces",
	"less than once in 100":        "menos de 1 de cada 100 veces",
	"more than 99 times in 100":    "más de 99 de cada 100 veces",

	"Order first: {yards}":                       "Pedir primero: {yards}",
	"Order: {yards}":                             "Pedir: {yards}",
	"{order}, in loads of {loads}":               "{order}, en viajes de {loads}",
	"Hold back about {yards} for the last load.": "Dejar pendiente para el último viaje: cerca de {yards}.",
	"When {yards} are placed and about {share} of the area is covered, measure what is left and call the last load in.": "Cuando se haya colado {yards} y esté cubierto cerca del {share} del área, medir lo que falta y pedir el último viaje.",
	"All at once it would be {yards}, which runs short {times}.":                                                        "Todo de una vez serían {yards}, y faltaría concreto {times}.",
	"How much to call in: {command}": "Cuánto pedir al final: {command}",
	"Nothing is held back. Have the plant's number at hand in case it runs short ({times}).": "No queda nada pendiente: tener a la mano el teléfono de la planta por si falta ({times}).",
	"placed → still needed,{unit}": "colado → falta tener,{unit}",
	"Find what is covered and about what is placed: behind the arrow is all that the rest takes. Take off what is still in the trucks, and call in the difference.": "Buscar lo cubierto y más o menos lo colado: después de la flecha está todo lo que pide el resto. Restarle lo que queda en los camiones y pedir la diferencia.",

	"{placement}: {panels}, the longest side {side}. Dashed lines are joints.":                        "{placement}: {panels}, el lado más largo de {side}. Las líneas punteadas son juntas.",
	"The bid had the area and no shape: this plan only stands in for it. Lay the joints out on site.": "La cotización traía el área sin la forma: este plano es supuesto. Trazar las juntas en la obra.",
	"Joints {depth} deep, {length} of them in all.":                                                   "Juntas de {depth} de profundidad, {length} en total.",
	"When to saw: {when}": "Cuándo cortar: {when}",
	"{from} to {to} hours after placing, early-entry ({source}, from memory).":              "de {from} a {to} horas después de colar, con sierra temprana ({source}, de memoria).",
	"{from} to {to} hours after placing in warm weather ({source}).":                        "de {from} a {to} horas después de colar en tiempo de calor ({source}).",
	"{from} to {to} hours after placing in cold weather ({source}).":                        "de {from} a {to} horas después de colar en tiempo de frío ({source}).",
	"{from} to {to} hours after placing ({source}).":                                        "de {from} a {to} horas después de colar ({source}).",
	"The slab decides: as soon as the cut does not ravel, and before it cracks on its own.": "La losa manda: en cuanto el corte no despostille la orilla y antes de que se agriete sola.",

	"{share} of the pours on record in {month} dried at {limit} or faster, where plastic cracking begins to threaten.":                               "{share} de los colados registrados en {month} se secaron a {limit} o más, donde empieza el riesgo de grietas por secado en fresco.",
	"On a hot, dry or windy day a fresh slab dries at {limit} and faster, and cracks while still soft. Read air, concrete, humidity and wind first.": "En un día de calor, seco o con viento la losa fresca se seca a {limit} o más, y se agrieta antes de endurecer. Medir primero aire, concreto, humedad y viento.",
	"Have fog or wind breaks, evaporation retarder and curing ready before the first truck.":                                                         "Tener listos el rociador o los rompevientos, el retardador de evaporación y el curado antes del primer camión.",

	"Air trapped behind a plug stores energy, and a freed hose whips. Stop the pump and take the pressure off first. Keep everybody clear of the end, and never straddle or hug a hose. Leave the clearing to the trained operator.": "El aire atrapado detrás de un tapón guarda presión, y la manguera suelta da latigazos. Parar la bomba y quitar la presión primero. Todos lejos de la punta, nunca abrazar ni montarse en la manguera; el destape es del operador capacitado.",
	"The air that dries a slab wears people down too. Plan water, rest and shade, and ease new people in over their first days.":                                                                                                     "El mismo aire que seca la losa agota a la gente: agua, descanso y sombra, y a los nuevos ir metiéndolos poco a poco los primeros días.",
	"Wet concrete is caustic and burns skin, often without pain at first. Wear gloves, boots and eye protection, and wash it off at once.":                                                                                           "El concreto fresco quema la piel, muchas veces sin dolor al principio: guantes, botas y lentes, y lavarse enseguida.",
	"Sawing makes silica dust that scars lungs. Use water to the blade, or a shroud with a vacuum. Whether a respirator is due depends on the tool, the place and the hours.":                                                        "El corte con sierra levanta polvo de sílice que daña los pulmones: agua al disco, o campana con aspiradora. Si toca mascarilla depende de la herramienta, el lugar y las horas.",
	"From batching to the end of discharge 90 minutes, unless otherwise agreed.":                                                                                                                                                     "De la carga a terminar de vaciar, 90 minutos, salvo otro acuerdo.",
	"Each gallon of water added to a yard takes away some 150 to 200 psi: write it down.":                                                                                                                                            "Cada galón de agua agregada por yarda quita de 150 a 200 psi, más o menos: apuntarla.",
	"Each 5 L of water added to a cubic meter takes away some 1.0 to 1.4 MPa: write it down.":                                                                                                                                        "Cada 5 L de agua agregados por metro cúbico quitan de 1.0 a 1.4 MPa, más o menos: apuntarlos.",
	"OSHA and NIOSH on heat":       "OSHA y NIOSH sobre el calor",
	"ASTM C94, scope":              "ASTM C94, alcance",
	"29 CFR 1926.1153, Table 1":    "29 CFR 1926.1153, tabla 1",
	"ASTM C94; NRMCA, from memory": "ASTM C94; NRMCA, de memoria",

	"The names above the blanks are the columns of the record files. Leave them as they are.": "Los nombres sobre los espacios son las columnas de los registros: dejarlos como están.",
	"Where a value is metric, write its unit behind it: 7.6 m3, 100 mm, 29 C.":                "Si el dato es métrico, apuntar su unidad detrás: 7.6 m3, 100 mm, 29 C.",
	"{table}: the slab":                       "{table}: la losa",
	"{table}: one row a truck":                "{table}: un renglón por camión",
	"{table}: one row each time work stopped": "{table}: un renglón por cada paro",
	"{table}: person-hours by task":           "{table}: horas-persona por tarea",
}
