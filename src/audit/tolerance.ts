/**
 * Within what a total counts as right: 10 and 50 mL, whatever a unit has set for its findings, so that
 * units can be held beside each other. In whole microlitres.
 */

export const NOTE = 10_000;
export const ATTENTION = 50_000;
