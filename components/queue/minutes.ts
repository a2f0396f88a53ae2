import { say } from '@/lib/platform/words/say';
/** Minutes since midnight as an input of type time wants them, '09:30'; midnight at the end of the day is '23:59'. */
export function toClock(minutes: number): string {
  const shown = Math.min(minutes, 1439);
  return `${String(Math.floor(shown / 60)).padStart(2, '0')}:${String(shown % 60).padStart(2, '0')}`;
}

/** Minutes since midnight of '09:30'; null for what is no time. */
export function fromClock(text: string): number | null {
  const match = /^(\d{2}):(\d{2})/.exec(text);
  return match === null ? null : Number(match[1]) * 60 + Number(match[2]);
}

/** The time of day of a local date and time 'YYYY-MM-DDTHH:mm'. */
export const timeOf = (local: string): string => local.slice(11, 16);

/** '2 h 15 min' */
export function sayMinutes(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  const rest = Math.round(minutes % 60);
  if (hours === 0) return say('{rest} min', { rest });
  return rest === 0 ? `${hours} h` : say('{hours} h {rest} min', { hours, rest });
}
