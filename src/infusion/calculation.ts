/**
 * The version of the calculation, on every answer. A release that changes any figure raises it: a
 * signature says by which version its figures were made.
 */
export const CALCULATION = "1";
