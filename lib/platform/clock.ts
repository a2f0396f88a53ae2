let pinned: Date | null = null;

/** The present instant, or the one the clock was pinned to. */
export const now = (): Date => (pinned === null ? new Date() : new Date(pinned));

/** Makes time stand at an instant: the demo scenario plays three years in a minute. Null lets it run again. */
export function pinClock(at: Date | null): void {
  pinned = at;
}

/** A calendar day 'YYYY-MM-DD' in a time zone (IANA name). */
export function dayIn(timeZone: string, at: Date): string {
  return new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).format(at);
}

/** 'YYYY-MM-DD' as the Date that a `date` column holds (midnight UTC). */
export const dateColumn = (day: string): Date => new Date(`${day}T00:00:00.000Z`);

/** The day of a `date` column. */
export const dayOf = (date: Date): string => date.toISOString().slice(0, 10);
