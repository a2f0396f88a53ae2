import { addDays, isCalendarDay } from '@/lib/permits/public-rules';
import { say } from '@/lib/platform/words/say';
import type { DateInterval } from '../schema';

export type ParsedInterval = { ok: true; interval: DateInterval } | { ok: false; message: string };

type Span = { earliestOn: string; latestOn: string };

const lastOfMonth = (year: string, month: string) => {
  const next =
    month === '12' ? `${Number(year) + 1}-01` : `${year}-${String(Number(month) + 1).padStart(2, '0')}`;
  return addDays(`${next.padStart(7, '0')}-01`, -1);
};

/** A year, month, day or day with time as the days it may mean; a time of day is read as its local day. */
function readPart(text: string): Span | null {
  const day = /^(\d{4}-\d{2}-\d{2})(T\d{2}(:\d{2}(:\d{2}(\.\d+)?)?)?(Z|[+-]\d{2}:?\d{2})?)?$/.exec(text)?.[1];
  if (day) return isCalendarDay(day) ? { earliestOn: day, latestOn: day } : null;
  const [, year, month] = /^(\d{4})(?:-(\d{2}))?$/.exec(text) ?? [];
  if (!year) return null;
  if (!month) return { earliestOn: `${year}-01-01`, latestOn: `${year}-12-31` };
  if (Number(month) < 1 || Number(month) > 12) return null;
  return { earliestOn: `${year}-${month}-01`, latestOn: lastOfMonth(year, month) };
}

/** ISO 8601 lets the end leave out what it shares with the start: '2026-03-03/05', '2026-03/04'. */
function completeEnd(start: string, end: string): string {
  if (/^\d{2}$/.test(end)) {
    if (/^\d{4}-\d{2}-\d{2}$/.test(start)) return `${start.slice(0, 8)}${end}`;
    if (/^\d{4}-\d{2}$/.test(start)) return `${start.slice(0, 5)}${end}`;
  }
  if (/^\d{2}-\d{2}$/.test(end) && /^\d{4}-\d{2}-\d{2}$/.test(start)) return `${start.slice(0, 5)}${end}`;
  return end;
}

const refuse = (message: string): ParsedInterval => ({ ok: false, message });

/**
 * Read a day, month, year or interval in ISO 8601 form ('2026-03-03/2026-03-05', ends inclusive). Refuses
 * what is ambiguous (03/04/2020), impossible, open-ended or reversed, with a sentence for the person.
 */
export function parseDateInterval(verbatim: string): ParsedInterval {
  const text = verbatim.trim();
  if (text === '') return refuse(say('Give a date'));
  if (/^\d{1,2}[./-]\d{1,2}[./-]\d{2,4}$/.test(text)) {
    return refuse(say('"{text}" can be read two ways: write the year first, such as 2026-03-04', { text }));
  }
  const [start = '', end, ...rest] = text.split('/').map((part) => part.trim());
  if (rest.length > 0) return refuse(say('"{text}" has more than one slash', { text }));
  if (start === '' || start === '..' || end === '' || end === '..') {
    return refuse(say('"{text}" is open at one end: give the earliest and the latest day', { text }));
  }
  const first = readPart(start);
  if (!first) return refuse(say('"{start}" is not a day, month or year that exists', { start }));
  if (end === undefined) return { ok: true, interval: { ...first, verbatim: text } };
  const last = readPart(completeEnd(start, end));
  if (!last) return refuse(say('"{end}" is not a day, month or year that exists', { end }));
  if (last.latestOn < first.earliestOn) return refuse(say('"{text}" ends before it begins', { text }));
  if (last.earliestOn < first.earliestOn) return refuse(say('"{text}" ends before it begins', { text }));
  return {
    ok: true,
    interval: { earliestOn: first.earliestOn, latestOn: last.latestOn, verbatim: text },
  };
}

/** The shortest ISO 8601 form that means exactly these days: a day, a month, a year, or start/end. */
export function formatDateInterval({ earliestOn, latestOn }: Span): string {
  if (earliestOn === latestOn) return earliestOn;
  const year = earliestOn.slice(0, 4);
  if (earliestOn === `${year}-01-01` && latestOn === `${year}-12-31`) return year;
  const month = earliestOn.slice(5, 7);
  if (earliestOn.endsWith('-01') && latestOn === lastOfMonth(year, month)) return `${year}-${month}`;
  return `${earliestOn}/${latestOn}`;
}
