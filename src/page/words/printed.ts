/** The printed words of each language. */

import { enPrint, type PrintWords } from "./en-print.js";
import { esPrint } from "./es-print.js";
import type { Language } from "./speech.js";

export const PRINTED: Readonly<Record<Language, PrintWords>> = { en: enPrint, es: esPrint };
