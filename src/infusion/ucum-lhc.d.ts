/**
 * The part of the UCUM library that this project uses; the package brings no declarations.
 * It computes in binary floating point, so nothing declared here may feed an amount.
 */
declare module "@lhncbc/ucum-lhc" {
  export interface UnitCheck {
    /** `invalid` also where the library knows which code was meant. */
    readonly status: "valid" | "invalid" | "error";
  }

  /** A unit against the library's base units; read by the tests alone. */
  export interface SpecifiedUnit {
    readonly unit: { readonly magnitude_: number } | null;
  }

  export class UcumLhcUtils {
    static getInstance(): UcumLhcUtils;
    validateUnitString(text: string, suggest?: boolean): UnitCheck;
    getSpecifiedUnit(text: string, valConv: "validate", suggest?: boolean): SpecifiedUnit;
  }
}
