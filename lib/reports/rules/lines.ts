import type { Column, Movement, ReportLine, SalvageReport } from '../schema';
import type { Figure } from './figures';
import { countyKey, isAcquisition, isDisposal } from './totals';

export type LineFilter = {
  figure?: Figure;
  taxon?: string;
  specimenType?: string;
  county?: string;
  month?: string;
  outcome?: string;
  /** Id of a warning: the birds it names. */
  warning?: string;
};

type Book = Pick<SalvageReport, 'lines' | 'movements' | 'warnings'>;

/**
 * The lines behind a number. `counted` is the number itself, in specimens, summed over those lines; null when the
 * filter names no number.
 */
export function selectLines(book: Book, filter: LineFilter): { lines: ReportLine[]; counted: number | null } {
  const named = filter.warning === undefined ? null : birdsOfWarning(book, filter.warning);
  const lines = book.lines.filter(
    (line) =>
      (named?.has(line.birdId) ?? true) &&
      (filter.county === undefined || countyKey(line) === filter.county) &&
      (filter.outcome === undefined || line.outcome === filter.outcome) &&
      (filter.specimenType === undefined || line.specimenType === filter.specimenType),
  );
  const shares = sharesOf(book, filter);
  const shown = lines.filter((line) => shares(line) !== null);
  if (filter.figure === undefined) return { lines: shown, counted: null };
  return { lines: shown, counted: shown.reduce((sum, line) => sum + (shares(line) ?? 0), 0) };
}

const birdsOfWarning = (book: Book, id: string): Set<string> =>
  new Set(book.warnings.filter((warning) => warning.id === id).flatMap(({ birdIds }) => birdIds));

/** What a line adds to the number; null when it has no part in it. */
type Share = (line: ReportLine) => number | null;

function sharesOf(book: Book, { figure, taxon, month }: LineFilter): Share {
  const is = (name: string | null) => name !== null && (taxon === undefined || name === taxon);
  const some = (count: number) => (count === 0 ? null : count);
  switch (figure) {
    case undefined: {
      const moved = month === undefined ? null : sumMovements(book.movements, (part) => inMonth(part, month));
      return (line) => (is(line.taxon) && (moved?.has(line.birdId) ?? true) ? 0 : null);
    }
    case 'onHand':
      return (line) => (is(line.taxon) ? some(line.onHand) : null);
    case 'opening':
      return (line) => (is(line.taxonThen) ? some(line.opening) : null);
    case 'late':
      return (line) =>
        some(
          (is(line.taxonAtOpening) ? line.opening + line.late : 0) - (is(line.taxonThen) ? line.opening : 0),
        );
    default: {
      const moved = sumMovements(
        book.movements,
        (part) => belongsTo(figure, part.column) && is(part.taxon) && inMonth(part, month),
      );
      return (line) => moved.get(line.birdId) ?? null;
    }
  }
}

const inMonth = (part: Movement, month: string | undefined): boolean =>
  month === undefined || part.on.startsWith(month);

function belongsTo(figure: Figure, column: Column): boolean {
  if (figure === 'acquired') return isAcquisition(column);
  return figure === 'disposed' ? isDisposal(column) : figure === column;
}

/** By bird, counted as the columns count: what leaves as a positive number. */
function sumMovements(movements: readonly Movement[], counts: (part: Movement) => boolean) {
  const sums = new Map<string, number>();
  for (const part of movements) {
    if (!counts(part)) continue;
    const leaves = isDisposal(part.column) || part.column === 'reclassifiedOut';
    sums.set(part.birdId, (sums.get(part.birdId) ?? 0) + (leaves ? -part.delta : part.delta));
  }
  return sums;
}
