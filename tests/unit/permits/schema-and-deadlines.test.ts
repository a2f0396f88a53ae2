import { describe, expect, it } from 'vitest';
import { shippedRulePacks } from '@/lib/permits/packs/load';
import { amendPermitRequest, createPermitRequest } from '@/lib/permits/permit-schema';
import { addYears, isCalendarDay, placeRange } from '@/lib/permits/rules/dates';
import {
  listDeadlineWarnings,
  reportDueOn,
  retainRecordsUntil,
  reviewPermitTerm,
  yearContaining,
} from '@/lib/permits/rules/deadlines';
import { makePermit, robin, testStatus } from './build';

const good = {
  number: 'SB-1001',
  authority: 'Federal office',
  kind: 'salvage',
  jurisdiction: 'US',
  effectiveOn: '2024-01-01',
  expiresOn: '2026-12-31',
  holder: { name: 'Holly Holder' },
  clauses: [],
};
const messagesFor = (value: unknown) =>
  createPermitRequest.safeParse(value).error?.issues.map((issue) => issue.message) ?? [];

describe('bad input is refused with a sentence', () => {
  it.each([
    ['an impossible date', { effectiveOn: '2025-02-30' }, /day that exists/],
    ['expiry before the start', { expiresOn: '2023-12-31' }, /expires before it takes effect/],
    [
      'a quota of −1',
      {
        clauses: [
          { id: 'q', kind: 'quota', taxa: [{ by: 'all' }], maximum: -1, year: { basis: 'calendar' } },
        ],
      },
      /below 0/,
    ],
    ['an unknown jurisdiction', { jurisdiction: 'Illinois' }, /ISO 3166/],
    [
      'a clause id used twice',
      {
        clauses: [
          { id: 'x', kind: 'tagging', fields: ['date'] },
          { id: 'x', kind: 'tagging', fields: ['place'] },
        ],
      },
      /used twice/,
    ],
    [
      'a month-day that does not exist',
      {
        clauses: [
          {
            id: 'r',
            kind: 'report-due',
            year: { basis: 'calendar' },
            due: { rule: 'month-day', monthDay: '02-30' },
          },
        ],
      },
      /month and day that exist/,
    ],
    [
      'a sub-permittee who ends before the start',
      { subPermittees: [{ name: 'Sam', fromOn: '2024-05-01', untilOn: '2024-04-01' }] },
      /before the first/,
    ],
  ])('%s', (_name, changes, message) => {
    expect(messagesFor({ ...good, ...changes }).join('; ')).toMatch(message);
  });

  it('the plain permit is taken, an amendment that changes nothing is not', () => {
    expect(messagesFor(good)).toEqual([]);
    const nothing = { version: 1, effectiveOn: '2024-02-01', reason: 'none' };
    expect(amendPermitRequest.safeParse(nothing).success).toBe(false);
    expect(amendPermitRequest.safeParse({ ...nothing, expiresOn: '2027-12-31' }).success).toBe(true);
  });
});

describe('days', () => {
  it.each([
    ['2024-02-29', true],
    ['2025-02-29', false],
    ['2025-13-01', false],
    ['2025-1-1', false],
  ])('%s exists: %s', (text, exists) => expect(isCalendarDay(text)).toBe(exists));

  it('29 February a year later is 28 February', () => expect(addYears('2024-02-29', 1)).toBe('2025-02-28'));

  it('a range is inside only as a whole', () => {
    const range = { earliestOn: '2024-12-31', latestOn: '2025-01-01' };
    expect(placeRange(range, '2025-01-01', null)).toBe('straddles');
    expect(placeRange(range, null, '2025-01-01')).toBe('inside');
    expect(placeRange(range, '2025-01-02', null)).toBe('before');
    expect(placeRange(range, null, '2024-12-30')).toBe('after');
  });
});

describe('edge case: calendar, fiscal, permit year', () => {
  it.each([
    [{ basis: 'calendar' }, '2024-06-30', '2024-01-01', '2024-12-31'],
    [{ basis: 'fiscal', startsOn: '07-01' }, '2024-06-30', '2023-07-01', '2024-06-30'],
    [{ basis: 'fiscal', startsOn: '07-01' }, '2024-07-01', '2024-07-01', '2025-06-30'],
    [{ basis: 'permit' }, '2024-04-14', '2023-04-15', '2024-04-14'],
  ] as const)('%j around %s', (year, date, fromOn, untilOn) => {
    expect(yearContaining(date, year, '2022-04-15')).toEqual({ fromOn, untilOn });
  });

  it.each([
    [{ rule: 'month-day', monthDay: '01-31' }, '2024-12-31', '2025-01-31'],
    [{ rule: 'month-day', monthDay: '07-31' }, '2024-06-30', '2024-07-31'],
    [{ rule: 'days-after', days: 30 }, '2024-12-31', '2025-01-30'],
  ] as const)('a report due by %j for a period until %s', (due, untilOn, expected) => {
    const clause = { id: 'r', text: '', kind: 'report-due', year: { basis: 'calendar' }, due } as const;
    expect(reportDueOn(clause, { fromOn: '2024-01-01', untilOn })).toBe(expected);
  });
});

describe('warnings ahead of time', () => {
  const clauses = [
    {
      id: 'r',
      kind: 'report-due',
      year: { basis: 'calendar' },
      due: { rule: 'month-day', monthDay: '01-31' },
    },
    { id: 'q', kind: 'quota', taxa: [{ by: 'all' }], maximum: 5, year: { basis: 'calendar' } },
  ];
  const codes = (today: string, birds: number, expiresOn = '2025-12-31') => {
    const take = { authorityId: 'permit-1', taxon: robin, foundOn: '2025-01-05', quantity: 1 };
    const counted = Array.from({ length: birds }, () => take);
    const permit = makePermit({ clauses, expiresOn });
    return listDeadlineWarnings(permit, today, counted, testStatus.onList).map((warning) => warning.code);
  };

  it('the report of last year, the quota at four fifths and full, the expiry', () => {
    expect(codes('2025-01-10', 3)).toEqual(['report-due']);
    expect(codes('2025-01-10', 4)).toEqual(['report-due', 'quota-nearly-used']);
    expect(codes('2025-03-01', 5)).toEqual(['quota-used']);
    expect(codes('2025-11-15', 0)).toEqual(['permit-expires']);
    expect(codes('2026-01-01', 0)[0]).toBe('permit-expired');
  });
});

describe('how long records are kept', () => {
  it('the latest day that applies wins (50 CFR 21.16(d), 21.12(b)(1), 13.46)', () => {
    const packs = shippedRulePacks();
    expect(retainRecordsUntil({ acquiredOn: '2024-05-01', permitExpiresOn: null }, [], packs)).toEqual({
      untilOn: '2029-12-31',
      source: '50 CFR 21.12(b)(1)',
    });
    expect(
      retainRecordsUntil({ acquiredOn: '2024-05-01', permitExpiresOn: '2026-03-31' }, [], packs)?.untilOn,
    ).toBe('2031-03-31');
    const long = [{ id: 'keep', text: '', kind: 'record-retention', years: 10, after: 'expiry' }] as const;
    expect(
      retainRecordsUntil({ acquiredOn: '2024-05-01', permitExpiresOn: '2026-03-31' }, [...long], packs),
    ).toEqual({
      untilOn: '2036-03-31',
      source: 'clause keep',
    });
  });

  it('a term longer than the pack knows is pointed out', () => {
    expect(reviewPermitTerm(makePermit({ expiresOn: '2026-06-01' }), shippedRulePacks())).toHaveLength(1);
    expect(reviewPermitTerm(makePermit(), shippedRulePacks())).toEqual([]);
  });
});
