/** The units of a caller in a column: a JSON list, or null for every unit. */

export type WithUnitsText<T> = Omit<T, "units"> & { readonly units: string | null };

type WithUnits<T> = Omit<T, "units"> & { readonly units: readonly string[] | null };

export function withUnits<T extends { readonly units: string | null }>(row: T): WithUnits<T> {
  return { ...row, units: row.units === null ? null : (JSON.parse(row.units) as string[]) };
}

export function withUnitsText<T extends { readonly units: readonly string[] | null }>(
  record: T,
): WithUnitsText<T> {
  return { ...record, units: record.units === null ? null : JSON.stringify(record.units) };
}
