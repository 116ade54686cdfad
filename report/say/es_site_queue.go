package say

// spanishSiteQueue is what the crew's forms say of entries that wait on the phone, in
// Spanish. See es.go for how to correct it.
var spanishSiteQueue = map[string]string{
	"Waiting to be sent: {n}.":                                      "Por enviar: {n}.",
	"Kept on this phone. It is being sent.":                         "Guardado en este teléfono. Se está enviando.",
	"All sent.":                                                     "Todo enviado.",
	"Not all of it was taken. Mend it below.":                       "No se aceptó todo. Corríjalo abajo.",
	"No connection. It stays on this phone and goes out by itself.": "Sin conexión. Queda en este teléfono y se envía solo.",
	"Sign in again, then it goes out.":                              "Entre otra vez y se envía.",
	"The office has much to do. It goes out in a moment.":           "La oficina está ocupada. Se envía en un momento.",
	"It could not be taken yet. It is tried again.":                 "Todavía no se pudo recibir. Se intenta otra vez.",

	"waits":         "en espera",
	"is being sent": "se está enviando",
	"not taken":     "no se recibió",
	"not taken yet": "todavía no se recibe",
	"by {name}: goes out once {name} signs in here": "de {name}: se envía cuando {name} entre aquí",

	"Mend it":       "Corregirlo",
	"Send it again": "Enviarlo otra vez",
	"Understood":    "Entendido",
	"Drop “{what}” for good? It will not be sent.":                                                 "¿Descartar “{what}” para siempre? No se enviará.",
	"Its form is not on this page any more. Enter it again elsewhere, then drop this one.":         "Su formulario ya no está en esta página. Anótelo otra vez en otro lugar y luego descarte este.",
	"Making the pictures smaller…":                                                                 "Reduciendo las fotos…",
	"{name} cannot be read on this phone, so it was left out. Choose a JPEG, PNG or WebP picture.": "{name} no se puede leer en este teléfono, así que se dejó fuera. Escoja una foto JPEG, PNG o WebP.",
	"{name} is too large, so it was left out.":                                                     "{name} es demasiado grande, así que se dejó fuera.",
	"A picture cannot be read any more. Choose it again, or leave the pictures out.":               "Una foto ya no se puede leer. Escójala otra vez o deje fuera las fotos.",
	"These pictures are too much at once: at most {most} go with one form.":                        "Son demasiadas fotos a la vez: caben a lo más {most} en un formulario.",
	"Keep it without the pictures":                                                                 "Guardarlo sin las fotos",
	"This phone has no room left, so nothing was kept. What you entered still stands in the form.": "Este teléfono ya no tiene espacio, así que no se guardó nada. Lo que anotó sigue en el formulario.",
	"Send it now": "Enviarlo ahora",
	"No connection. This is the page as it was at {time}.":                     "Sin conexión. Esta es la página como estaba: {time}.",
	"Somebody else is signed in by now, so nothing was kept under their name.": "Ahora entró otra persona, así que no se guardó nada a su nombre.",
	"Sign in as who entered it.":                                               "Entre con la cuenta de quien lo anotó.",
}
