/** What PostgreSQL calls the unnamed statement: it is forgotten at the next one. */
const UNNAMED = '';
/** A text is named when it was met so often: what is asked once a day need not stay prepared. */
const OFTEN = 20;
/** So many texts are named at most; each stays prepared, with its plan, on every connection that has sent it. */
const MOST_NAMES = 32;
/** So many texts are counted at most, before counting begins anew. */
const MOST_COUNTED = 1_000;

/**
 * Only Prisma's reads with relations have it: they are the longest, and most ask by keys, so that one plan fits all
 * values. Where it does not, PostgreSQL goes on planning by the values as long as it expects that to be cheaper.
 */
const READS_RELATIONS = '"__prisma_data__"';

/**
 * Names for the statements that are worth to stay prepared: PostgreSQL then neither reads nor plans them anew each time.
 * @returns the name of a statement, the same for the same text; the empty one where it goes without
 */
export function statementNames({
  often = OFTEN,
  most = MOST_NAMES,
} = {}): (statement: { sql: string }) => string {
  const names = new Map<string, string>();
  const met = new Map<string, number>();
  return ({ sql }) => {
    const name = names.get(sql);
    if (name !== undefined) return name;
    if (names.size >= most || !sql.includes(READS_RELATIONS)) return UNNAMED;
    const times = (met.get(sql) ?? 0) + 1;
    if (times < often) {
      if (met.size >= MOST_COUNTED) met.clear();
      met.set(sql, times);
      return UNNAMED;
    }
    met.delete(sql);
    const made = `furcula_${names.size + 1}`;
    names.set(sql, made);
    return made;
  };
}
