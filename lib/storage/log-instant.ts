import { say } from '@/lib/platform/words/say';

/** Whole minutes and seconds of an ISO 8601 stamp, with or without its zone. */
const stampPattern =
  /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,]\d{1,9})?)?\s*(Z|[+-]\d{2}:?\d{2})?$/i;

/**
 * Reads a stamp of a temperature log.
 * @param utcOffset "+01:00" for stamps without a zone; stamps with one keep theirs
 * @returns the instant and its offset, or a sentence saying what is wrong
 */
export function parseInstant(
  text: string,
  utcOffset: string | undefined,
): { atMs: number; offset: string } | string {
  const match = stampPattern.exec(text);
  if (!match) {
    return say(
      '"{text}" is not a time like 2026-03-05 14:30:00+01:00 (year first; other orders are ambiguous).',
      { text },
    );
  }
  const [, year, month, day, hour, minute, second = '0', zone] = match;
  if (zone !== undefined && utcOffset !== undefined) {
    return say(
      '"{text}" has its own zone, but this log was said to have none: two kinds of stamps in one log.',
      { text },
    );
  }
  const offset = zone ?? utcOffset;
  if (offset === undefined)
    return say('"{text}" has no zone: say in which zone the logger\'s clock runs.', { text });
  const utcMs = Date.UTC(
    Number(year),
    Number(month) - 1,
    Number(day),
    Number(hour),
    Number(minute),
    Number(second),
  );
  const back = new Date(utcMs).toISOString();
  if (back.slice(0, 10) !== `${year}-${month}-${day}` || back.slice(11, 16) !== `${hour}:${minute}`) {
    return say('"{text}" does not exist in the calendar.', { text });
  }
  const offsetMinutes = parseOffset(offset);
  if (offsetMinutes === null) return say('"{offset}" is not an offset from UTC.', { offset });
  return { atMs: utcMs - offsetMinutes * 60_000, offset: formatOffset(offsetMinutes) };
}

/** Minutes east of UTC from "Z", "+01:00" or "-0330"; null if it is none. */
function parseOffset(text: string): number | null {
  if (/^z$/i.test(text)) return 0;
  const match = /^([+-])(\d{2}):?(\d{2})$/.exec(text);
  if (!match || Number(match[2]) > 14 || Number(match[3]) > 59) return null;
  const minutes = Number(match[2]) * 60 + Number(match[3]);
  return match[1] === '-' ? -minutes : minutes;
}

function formatOffset(minutes: number): string {
  const size = Math.abs(minutes);
  const pad = (value: number) => String(value).padStart(2, '0');
  return `${minutes < 0 ? '-' : '+'}${pad(Math.floor(size / 60))}:${pad(size % 60)}`;
}
