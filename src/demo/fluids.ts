/**
 * What hangs in the demo: ordinary fluids and drugs by their generic names, in common strengths. Each
 * is the part of a `bag-hung` entry that its label says: volume in mL, fluid, and what was added.
 */

export interface Bag {
  readonly volume: number;
  readonly fluid: { readonly name: string; readonly category: string };
  readonly additives?: readonly { readonly name: string; readonly amount: number; readonly unit: string }[];
}

function fluid(name: string, volume: number, category = "iv-fluid"): Bag {
  return { volume, fluid: { name, category } };
}

function drug(name: string, amount: number, unit: string, volume: number, diluent: string): Bag {
  const called = name.charAt(0).toUpperCase() + name.slice(1);
  return {
    volume,
    fluid: { name: `${called} in ${diluent}`, category: "iv-medication" },
    additives: [{ name, amount, unit }],
  };
}

const SALINE = "sodium chloride 0.9 %";
const DEXTROSE = "dextrose 5 %";

export const saline = fluid("Sodium chloride 0.9 %", 1000);
export const smallSaline = fluid("Sodium chloride 0.9 %", 500);
export const ringer = fluid("Ringer's lactate", 1000);
export const dextroseHalfSaline = fluid("Dextrose 5 % and sodium chloride 0.45 %", 1000);
/** A pressure bag for an arterial line. */
export const pressureFlush = fluid("Sodium chloride 0.9 %", 500, "iv-flush");
export const dextrosePotassium: Bag = {
  ...dextroseHalfSaline,
  additives: [{ name: "potassium chloride", amount: 20, unit: "mmol" }],
};

/** 32 micrograms in a millilitre. */
export const norepinephrine = drug("norepinephrine", 8, "mg", 250, DEXTROSE);
/** 200 micrograms in a millilitre. */
export const nitroglycerin = drug("nitroglycerin", 50, "mg", 250, DEXTROSE);
/** 1 unit in a millilitre. */
export const insulin = drug("insulin regular", 100, "[iU]", 100, SALINE);
/** 100 units in a millilitre. */
export const heparin = drug("heparin", 25_000, "[iU]", 250, DEXTROSE);
/** 0.8 milligrams in a millilitre: 8 mg/h is 10 mL/h. */
export const pantoprazole = drug("pantoprazole", 80, "mg", 100, SALINE);
/** 10 milligrams in a millilitre. */
export const propofol = drug("propofol", 1_000, "mg", 100, "lipid emulsion");
/** 50 micrograms in a millilitre. */
export const fentanyl = drug("fentanyl", 2_500, "ug", 50, SALINE);
/** 5 milligrams in a millilitre. */
export const furosemide = drug("furosemide", 250, "mg", 50, SALINE);
/** 0.2 milligrams in a millilitre. */
export const hydromorphone = drug("hydromorphone", 10, "mg", 50, SALINE);

export const piperacillin = drug("piperacillin and tazobactam", 4.5, "g", 100, SALINE);
export const vancomycin = drug("vancomycin", 1.25, "g", 250, SALINE);
export const cefazolin = drug("cefazolin", 2, "g", 50, DEXTROSE);
export const ceftriaxone = drug("ceftriaxone", 2, "g", 50, DEXTROSE);
export const azithromycin = drug("azithromycin", 500, "mg", 250, SALINE);
export const potassiumChloride = drug("potassium chloride", 20, "mmol", 100, "water for injection");
export const magnesiumSulfate = drug("magnesium sulfate", 2, "g", 50, "water for injection");

export const redCells = fluid("Red cells", 300, "blood-product");
export const tubeFeed = fluid("Enteral formula, 1.2 kcal/mL", 1000, "enteral-feed");
export const feedingWater = fluid("Water", 500, "enteral-water");
