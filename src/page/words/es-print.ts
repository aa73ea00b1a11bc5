/** What stands on printed sheets and around them, in Spanish. */

import type { PrintWords } from "./en-print.js";

export const esPrint: PrintWords = {
  titles: { handover: "Entrega de turno", chart: "Hoja del turno" },
  which: "Hoja",
  paper: "Papel",
  papers: { a4: "A4", letter: "Carta" },
  print: "Imprimir",
  save: "Guardar como PDF",
  saving: "Preparando el PDF…",
  notSaved: "No se pudo preparar el PDF.",
  stays: "Un PDF guardado queda en este equipo hasta que alguien lo borre.",
  back: "Volver al turno",
  page: (number, of) => `página ${number} de ${of}`,

  identifier: "Identificador",
  noName: "No hay ningún nombre anotado",
  atPresent: (place) => `Actualmente: ${place}`,
  hours: (from, to, offset) => `${from} a ${to}, UTC${offset}`,
  hoursOverChange: (from, before, to, after) => `${from} (UTC${before}) a ${to} (UTC${after})`,
  dated: (day, date) => `${day} (${date})`,
  notShown: (count, points) =>
    count === 1
      ? `Un carácter del nombre no se puede mostrar aquí (${points}). Guíese por el identificador.`
      : `${count} caracteres del nombre no se pueden mostrar aquí (${points}). Guíese por el identificador.`,
  identifierNotShown: (points) =>
    `El identificador tiene caracteres que no se pueden mostrar aquí (${points}). No identifique al paciente con esta hoja.`,
  boxes: "□ ocupa el lugar de un carácter que la letra de este PDF no tiene.",
  record: (entry, when, calculation, digest) =>
    `Conocidas: ${entry} anotaciones, la última del ${when}. Resumen criptográfico de la última: ${digest}. Cálculo ${calculation}.`,
  computed: (when) => `calculado hasta las ${when}`,
  printedBy: (name) => `Impreso por ${name}.`,

  signature: "Firma",
  signed: (name, when, from, to) => `Firmado por ${name}, ${when}, de ${from} a ${to}`,
  signatureStates: {
    final: "vale como se firmó",
    corrected: "hay cifras que han cambiado desde entonces",
    replaced: "se ha vuelto a firmar desde entonces",
  },
  remark: (text) => `Observación: ${text}`,
  digest: (digest) => `Resumen criptográfico de las cifras: ${digest}`,
  changed: (count) =>
    count === 1 ? "1 cifra firmada es ahora otra." : `${count} cifras firmadas son ahora otras.`,

  runs: "Lo que pasa",
  line: "Vía",
  channel: "Canal",
  does: "Qué hace",
  bag: "Bolsa",
  labelled: "Etiqueta",
  delivered: "Ha pasado",
  left: "Queda",
  emptyAbout: "Vacía hacia",
  readOff: (clock) => `Lo que los equipos deberían mostrar a las ${clock}`,
  total: "Total",
  shows: "Debería mostrar",
  written: "Anotado por última vez",
  unwritten: "Sin anotar",
  sinceThen: (when) => `desde las ${when}`,
  read: "Leído en la entrega",
  allWritten: "anotado",
  waiting: (volume) => `${volume} leídos, pendiente de decidir`,
  chamber: (chamber, category, volume, when) =>
    `${chamber} (${category}) ${volume === null ? "se vació" : `tenía ${volume}`} a las ${when}; lo que llegó después solo se sabe mirando.`,

  what: "Qué",
  act: "Qué se encontró y qué lo resuelve",
  done: "Hecho, por quién",

  broughtForward: "Balance anterior al turno",
  whyNotExact:
    "«Al menos», «a lo sumo» y «aprox.» indican que hay minutos que no se saben o algo que no se midió, como se dice abajo.",
  doubts: "Lo que no se sabe y lo que no se midió",
  noDoubts: "Se conoce cada minuto del turno y no quedó nada sin medir.",
  unknownMinutes: (line, minutes) => `${line}: ${minutes} sin saber.`,
  unmeasuredBefore: (times) => `Antes de este turno quedó algo sin medir ${times}.`,
  broughtForwardNotExact: "El balance anterior al turno no es exacto.",
  lostUnknown: (channel, from, to) => `${channel}: no se sabe cuánto se perdió de ${from} a ${to}.`,
  irrigation: (site, instilled, drained, output, retained) =>
    `${site}: ${instilled} de irrigación puestos, ${drained} drenados, de los que ${output} son salida; quedan ${retained} de irrigación.`,
  besides: { "before-admission": "Antes del ingreso", away: "Ausente" },
  beside: (when, intake, output) =>
    `${when}: entradas ${intake}, salidas ${output}; no está en ninguna hora, pero sí en el balance desde el ingreso.`,
  apart: (what, volume) => `${what}, ${volume}: no está en ningún total, por las convenciones de la unidad.`,

  area: "El área es volumen",
  part: (number, of) => `parte ${number} de ${of}`,
  strokes: "Trazo bajo la cifra de una vía",
  noStroke: (what) => `ninguno: ${what}`,
  ran: "Lo que pasó",
  when: "Cuándo",
  fluid: "Líquido",
  rate: "Velocidad",
  volume: "Volumen",
  late: "Anotado tarde",
  recorded: (clock, name) => `Anotado a las ${clock} por ${name}.`,

  conventions: "Convenciones vigentes",
  rounded: (step) => `Las cifras se redondean a ${step}, de modo que las horas suman el turno.`,
  boundary: {
    ends: "Un volumen anotado justo en la hora cuenta en la hora que termina.",
    starts: "Un volumen anotado justo en la hora cuenta en la hora que empieza.",
  },
  ice: (share) => `El hielo cuenta ${share} de su volumen.`,
  soft: (foods) => `Los alimentos blandos cuentan una parte del suyo: ${foods}.`,
  weighed: "1 g pesado cuenta 1 mL.",
  household: (measures) => `Medidas: ${measures}.`,
  counts: {
    bloodProducts: ["Los hemoderivados no están en ningún total.", "Los hemoderivados cuentan como entrada."],
    flushes: ["Los lavados no están en ningún total.", "Los lavados cuentan como entrada."],
    returned: [
      "Lo que se devolvió se descuenta de la salida.",
      "Lo que se devolvió no se descuenta de la salida.",
    ],
  },
  never: "La irrigación no está en ningún total y las pérdidas insensibles nunca se suman.",
  heldFrom: (from, to) => `De ${from} a ${to}:`,

  notes: "Notas",
  handedOver: "Entrega",
  takenOver: "Recibe",
  charted: "Firma",
  dateAndTime: "Fecha y hora",
};
