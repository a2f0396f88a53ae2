export type Finished = { day: string; personId: string };

const DAY_MS = 86_400_000;

/** The Monday of the week that a day 'YYYY-MM-DD' is in. */
function mondayOf(day: string): string {
  const at = Date.parse(`${day}T00:00:00Z`);
  const sinceMonday = (new Date(at).getUTCDay() + 6) % 7;
  return new Date(at - sinceMonday * DAY_MS).toISOString().slice(0, 10);
}

/**
 * Who was at work, from finished preparations: one day for each person and week in which they finished something, so
 * that the weekly rate of these days is the number of people at work; and the birds that one of them finishes a week.
 * Null where nothing was finished.
 */
export function learnPeople(finished: readonly Finished[]): {
  personWeeks: string[];
  birdsPerPersonWeek: number | null;
} {
  const firstDay = new Map<string, string>();
  for (const { day, personId } of finished) {
    const key = `${personId} ${mondayOf(day)}`;
    const known = firstDay.get(key);
    if (known === undefined || day < known) firstDay.set(key, day);
  }
  const personWeeks = [...firstDay.values()];
  return {
    personWeeks,
    birdsPerPersonWeek: personWeeks.length === 0 ? null : finished.length / personWeeks.length,
  };
}
