import { IMPORT_FIELDS, type ImportField } from '@/lib/exchange/import-fields';
import { REASON_COLUMN } from '@/lib/exchange/table';

export interface ColumnSuggestion {
  /** Position and name of the column. */
  index: number;
  column: string;
  /** null: nothing fits, or the column is our own list of reasons. */
  fieldId: string | null;
  /** 1 for the very name, less for likeness. */
  confidence: number;
  reason: string;
}

const LIKE_ENOUGH = 0.7;

/** A head as plain words: camel case, signs and units in brackets taken apart; prefixes of terms cut off. */
function plainHead(head: string): string {
  return head
    .replace(/^.*[/:#](?=\w+$)/, '')
    .replace(/\(.*?\)|\[.*?\]/g, ' ')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .replace(/#/g, ' no ')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();
}

function bigrams(text: string): Map<string, number> {
  const counts = new Map<string, number>();
  const padded = ` ${text} `;
  for (let at = 0; at < padded.length - 1; at += 1) {
    const pair = padded.slice(at, at + 2);
    counts.set(pair, (counts.get(pair) ?? 0) + 1);
  }
  return counts;
}

/** Dice's coefficient over pairs of letters: 1 for the same text, 0 for no pair in common. */
function measureLikeness(first: string, second: string): number {
  const [left, right] = [bigrams(first), bigrams(second)];
  const total = (counts: Map<string, number>) => [...counts.values()].reduce((sum, count) => sum + count, 0);
  let shared = 0;
  for (const [pair, count] of left) shared += Math.min(count, right.get(pair) ?? 0);
  return (2 * shared) / (total(left) + total(right));
}

function rateField(head: string, field: ImportField): number {
  const joined = head.replaceAll(' ', '');
  const names = [...field.aliases, plainHead(field.label)];
  if (names.some((alias) => alias === head || alias.replaceAll(' ', '') === joined)) return 1;
  return Math.max(...names.map((alias) => measureLikeness(head, alias))) * 0.95;
}

/** What each column may mean. A field is suggested once, for the column that fits it best. */
export function suggestColumns(
  header: readonly string[],
  saved: Readonly<Record<string, string>> = {},
): ColumnSuggestion[] {
  const suggestions: ColumnSuggestion[] = header.map((column, index) => ({
    index,
    column,
    fieldId: null,
    confidence: 0,
    reason: column === REASON_COLUMN ? 'Our own list of reasons' : 'No field has a name like it',
  }));
  const taken = new Set<string>();
  const give = (index: number, fieldId: string, confidence: number, reason: string) => {
    const suggestion = suggestions[index];
    if (!suggestion || suggestion.fieldId !== null || taken.has(fieldId)) return;
    taken.add(fieldId);
    suggestions[index] = { ...suggestion, fieldId, confidence, reason };
  };
  const usable = header
    .map((column, index) => ({ column, index }))
    .filter(({ column }) => column !== REASON_COLUMN);
  for (const { column, index } of usable) {
    const fieldId = Object.hasOwn(saved, column) ? saved[column] : undefined;
    if (fieldId) give(index, fieldId, 1, 'As in the saved mapping');
  }
  const rated = usable
    .flatMap(({ column, index }) =>
      IMPORT_FIELDS.map((field) => ({ index, field, score: rateField(plainHead(column), field) })),
    )
    .filter(({ score }) => score >= LIKE_ENOUGH)
    .sort((a, b) => b.score - a.score);
  for (const { index, field, score } of rated) {
    give(
      index,
      field.id,
      score,
      score === 1 ? `The usual name for ${field.label}` : `Looks like ${field.label}`,
    );
  }
  return suggestions;
}

/** The unit that a head names for its numbers ("Elevation (ft)", "wt_g"); null when it names none. */
export function findHeadUnit(head: string): string | null {
  const unit = /[([ _](mm|cm|g|kg|mg|oz|lb|m|ft|feet|km|mi|meters|metres)[)\]]?$/i.exec(head.trim());
  return unit?.[1]?.toLowerCase() ?? null;
}
