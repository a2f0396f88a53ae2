import 'server-only';
import { findNamedCentre } from '@/lib/places/public-rules';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { say } from '@/lib/platform/words/say';
import type { ChartsAnswer, MapAnswer, MapQuery, NumbersAnswer, NumbersQuery } from '../figures-wire';
import { countIntake, countPrepared, countStays, findTimeZone, listFrozenDays } from '../repo/numbers';
import { findNames } from '../repo/review';
import { countFinds, countTaxa, summariseMeasures } from '../repo/search/counts';
import { countCells, countCounties } from '../repo/search/places';
import { countSexes, listYears, MONTHS_OF_YEAR, shapeCross } from '../rules/charts';
import { type Cell, drawCells, drawCounties } from '../rules/map';
import { countAges, followBacklog, listMonths } from '../rules/numbers';
import { SEXES } from '../schema';
import { readSearch } from './search';

const sum = (rows: readonly { count: number }[]) => rows.reduce((total, { count }) => total + count, 0);

/**
 * The hits of a search on a map, as exactly as this reader may know each place: clusters of points for staff (a
 * sensitive bird at the middle of its shared cell, unless they may see it), counties and states for visitors.
 */
export async function mapSearch(actor: Actor, query: MapQuery): Promise<MapAnswer> {
  const { where, scope, problems } = await readSearch(actor, query.q);
  if (scope.approvedOnly) {
    const rows = await countCounties(where);
    return {
      by: 'counties',
      step: query.step,
      ...drawCounties(rows, findNamedCentre),
      total: sum(rows),
      problems,
    };
  }
  const rows = await countCells(where, scope, query.step);
  const cells = rows.flatMap(({ row, col, latitude, longitude, names, ...rest }): Cell[] =>
    row === null || col === null || latitude === null || longitude === null
      ? []
      : [{ row, col, latitude, longitude, names: names ?? [], ...rest }],
  );
  const total = sum(rows);
  return { by: 'points', ...drawCells(cells, query.step), total, unplaced: total - sum(cells), problems };
}

/** The hits of a search in figures: months, causes, years, sexes and measures. */
export async function chartSearch(actor: Actor, q: string): Promise<ChartsAnswer> {
  const { where, problems } = await readSearch(actor, q);
  const [finds, taxa, measures] = await Promise.all([
    countFinds(where),
    countTaxa(where),
    summariseMeasures(where),
  ]);
  const byMonth = finds.filter(({ by }) => by === 'month');
  const byYear = finds.filter(({ by }) => by === 'year');
  return {
    total: sum(byMonth),
    taxa,
    months: shapeCross(byMonth, MONTHS_OF_YEAR),
    years: shapeCross(byYear, listYears(byYear.map(({ key }) => key)), { fixed: SEXES }),
    sexes: countSexes(byYear),
    measures,
    problems,
  };
}

/** The lab's own numbers over the last years up to today. */
export async function showNumbers(actor: Actor, { years }: NumbersQuery): Promise<NumbersAnswer> {
  authorise(actor, 'numbers.see');
  const { collectionId } = actor;
  const timeZone = await findTimeZone(collectionId);
  const until = dayIn(timeZone, now());
  const from = `${Number(until.slice(0, 4)) - years}${until.slice(4, 7)}-01`;
  const period = { from, until, timeZone };
  const [intake, prepared, frozen, stays] = await Promise.all([
    countIntake(collectionId, period),
    countPrepared(collectionId, period),
    listFrozenDays(collectionId, timeZone),
    countStays(collectionId),
  ]);
  const names = await findNames(
    db(),
    prepared.map(({ key }) => key),
  );
  const nameOf = (id: string | null) => names.get(id ?? '') ?? say('somebody who left');
  const byName = prepared.map((row) => ({ ...row, key: nameOf(row.key) }));
  const people = [...new Set(byName.map(({ key }) => key))].sort((a, b) => a.localeCompare(b));
  const months = listMonths(from, until);
  return {
    from,
    until,
    intake: shapeCross(intake, months),
    prepared: shapeCross(byName, people),
    freezer: countAges(frozen, until),
    backlog: followBacklog(
      stays.filter(({ leftIn }) => leftIn !== 'unknown'),
      months,
    ),
    undated: sum(stays.filter(({ leftIn }) => leftIn === 'unknown')),
  };
}
