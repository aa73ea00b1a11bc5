/** Import directions: nothing points back. DEVELOPERS.md has the same as a map. */

/** What a folder may import besides itself. */
const ALLOWED = {
  time: [],
  conventions: ["time"],
  infusion: ["time", "conventions"],
  balance: ["time", "conventions", "infusion"],
  findings: ["time", "conventions", "infusion", "balance"],
  audit: ["time", "conventions", "infusion", "balance", "findings"],
  wire: ["time", "conventions", "infusion", "audit"],
  store: ["time"],
  ledger: ["time", "conventions", "infusion", "balance", "findings", "audit", "wire", "store"],
  access: ["time", "wire", "store", "ledger"],
  rest: ["time", "conventions", "infusion", "audit", "wire", "store", "ledger", "access"],
  demo: ["time", "wire", "ledger", "store", "access"],
  commands: ["time", "wire", "ledger", "store", "access", "rest", "demo"],
  describe: ["time", "ledger", "store", "access", "rest"],
};

const directions = Object.entries(ALLOWED).map(([folder, allowed]) => ({
  name: `${folder}-points-only-inwards`,
  severity: "error",
  from: { path: `^src/${folder}/` },
  to: {
    path: "^src/",
    pathNot: [folder, ...allowed]
      .map((one) => `^src/${one}/`)
      .concat(["commands", "describe"].includes(folder) ? ["^src/(app|config)\\.ts"] : []),
  },
}));

module.exports = {
  forbidden: [
    ...directions,
    {
      name: "no-circles",
      comment: "Files that need each other are one file, or have a third between them.",
      severity: "error",
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ["type-only"] } },
    },
    {
      name: "only-time-knows-luxon",
      severity: "error",
      from: { path: "^src/", pathNot: "^src/time/" },
      to: { path: "node_modules/luxon" },
    },
    {
      name: "only-the-store-knows-sql",
      severity: "error",
      from: { path: "^src/", pathNot: "^src/store/" },
      to: { path: "node_modules/(better-sqlite3|kysely)" },
    },
    {
      name: "the-core-is-pure",
      comment: "No clock, JSON schema, SQL, HTTP or file in the calculation.",
      severity: "error",
      from: { path: "^src/(infusion|balance|findings|audit|conventions|time)/" },
      to: {
        path: "node_modules/(fastify|zod|kysely|better-sqlite3|pino)|^(node:)?(fs|http|net|crypto|path)$",
      },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    exclude: { path: "^src/page/" },
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "require", "node", "default"],
    },
  },
};
