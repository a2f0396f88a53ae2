import 'server-only';
import { dayIn } from './clock';
import { DEFAULT_TEMPLATES, formatNumber, type NumberKind, numberScope } from './numbers';
import type { Work } from './tx';

/** First letters of a person's first and last name: the preparator's mark in a preparation number. */
export function initialsOf(name: string): string {
  const letters = name
    .normalize('NFD')
    .split(/\s+/)
    .map((word) => /[A-Za-z]/.exec(word)?.[0] ?? '')
    .filter((letter) => letter !== '');
  return [letters[0], letters.length > 1 ? letters.at(-1) : ''].join('').toUpperCase() || 'X';
}

/**
 * The next number of a kind, taken inside the command's transaction: a rollback gives it back, so there are no gaps,
 * and the row lock makes simultaneous takers wait for each other, so there are no duplicates.
 */
export async function takeNumber(work: Work, kind: NumberKind): Promise<string> {
  const { collectionId } = work.actor;
  const collection = await work.db.collection.findUniqueOrThrow({ where: { id: collectionId } });
  const templates = (collection.settings as { numbers?: Partial<Record<NumberKind, string>> }).numbers ?? {};
  const template = templates[kind] ?? DEFAULT_TEMPLATES[kind];
  const [year = 0, month = 1] = dayIn(collection.timeZone, work.now).split('-').map(Number);
  const values = { year, month, initials: initialsOf(work.actor.name) };
  const scope = numberScope(template, values);
  const [row] = await work.db.$queryRaw<{ taken: number }[]>`
    INSERT INTO "NumberSequence" ("collectionId", kind, scope, next) VALUES (${collectionId}::uuid, ${kind}, ${scope}, 2)
    ON CONFLICT ("collectionId", kind, scope) DO UPDATE SET next = "NumberSequence".next + 1
    RETURNING next - 1 AS taken`;
  if (row === undefined) throw new Error('The number sequence gave no number.');
  return formatNumber(template, { ...values, n: row.taken });
}
