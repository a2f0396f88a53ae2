let pinned: Date | null = null;

/** The present instant, or the one the clock was pinned to. */
export const now = (): Date => (pinned === null ? new Date() : new Date(pinned));

/** Makes time stand at an instant: the demo scenario plays three years in a minute. Null lets it run again. */
export function pinClock(at: Date | null): void {
  pinned = at;
}

/** This instant, or the earlier one where it lies after it: a server's clock may have been set back in between. */
export const notBefore = (earlier: Date, at: Date): Date => (at < earlier ? earlier : at);

const dayFormats = new Map<string, Intl.DateTimeFormat>();

/** A calendar day 'YYYY-MM-DD' in a time zone (IANA name). */
export function dayIn(timeZone: string, at: Date): string {
  // Making a format costs far more than using it.
  let format = dayFormats.get(timeZone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat('en-CA', {
      timeZone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
    });
    dayFormats.set(timeZone, format);
  }
  return format.format(at);
}

/** 'YYYY-MM-DD' as the Date that a `date` column holds (midnight UTC). */
export const dateColumn = (day: string): Date => new Date(`${day}T00:00:00.000Z`);

/** The day of a `date` column. */
export const dayOf = (date: Date): string => date.toISOString().slice(0, 10);

/** An instant about the middle of a calendar day in a time zone: when something happened of which only the day is known. */
export function middayOf(timeZone: string, day: string): Date {
  const noonUtc = new Date(`${day}T12:00:00.000Z`);
  const local = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    hourCycle: 'h23',
  }).formatToParts(noonUtc);
  const part = (type: string) => Number(local.find((one) => one.type === type)?.value ?? 0);
  const daysAhead = part('day') === noonUtc.getUTCDate() ? 0 : 1;
  const aheadMinutes = daysAhead * 1440 + (part('hour') - 12) * 60 + part('minute');
  return new Date(noonUtc.getTime() - aheadMinutes * 60_000);
}
