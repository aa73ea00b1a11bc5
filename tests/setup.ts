/**
 * Properties are tried on the same random cases in every run, so that a change is judged by what it
 * changed; with `LONG_PROPERTIES` on fresh ones. A failure prints its seed and its smallest case.
 */

import fc from "fast-check";

if (process.env.LONG_PROPERTIES === undefined) fc.configureGlobal({ seed: 4_032_026 });
