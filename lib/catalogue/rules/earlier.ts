type Json = unknown;
type Said = { value: Json; at: string };

/** A value that a field had before, and when it was last written or changed. */
export type EarlierValue = { field: string; value: Json; at: string };

const textOf = (value: Json): string => JSON.stringify(value ?? null);

/**
 * The values that stood in a record's fields before and do not now, each once, as it was said last; by field, the
 * newest first. Nothing is no value that could be put back.
 * @param fields what stands now, with what the bench corrected
 * @param amendments what was changed after approval
 */
export function earlierValues(
  fields: readonly { field: string; value: Json; superseded: readonly Said[] }[],
  amendments: readonly { field: string; before: Json; after: Json; at: string }[],
): EarlierValue[] {
  const now = new Map(fields.map(({ field, value }) => [field, textOf(value)]));
  const said: EarlierValue[] = [
    ...fields.flatMap(({ field, superseded }) => superseded.map(({ value, at }) => ({ field, value, at }))),
    ...amendments.flatMap(({ field, before, after, at }) => [
      { field, value: before, at },
      { field, value: after, at },
    ]),
  ].sort((a, b) => a.field.localeCompare(b.field) || b.at.localeCompare(a.at));
  const seen = new Set<string>();
  return said.filter(({ field, value }) => {
    const text = textOf(value);
    const key = `${field} ${text}`;
    if (text === 'null' || text === (now.get(field) ?? 'null') || seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
