/** The present instant; tests replace it by vi.setSystemTime. */
export const now = (): Date => new Date();

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
