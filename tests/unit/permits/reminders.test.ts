import { describe, expect, it } from 'vitest';
import { permit } from '@/lib/permits/permit-schema';
import { duePermitReminders } from '@/lib/permits/rules/reminders';

const PERMIT = permit.parse({
  id: 'p',
  number: 'P-1',
  authority: 'Bird Office',
  kind: 'salvage',
  jurisdiction: 'US',
  effectiveOn: '2025-01-01',
  expiresOn: '2027-06-30',
  holder: { name: 'Museum' },
  clauses: [
    {
      id: 'c1',
      kind: 'report-due',
      year: { basis: 'calendar' },
      due: { rule: 'month-day', monthDay: '01-31' },
    },
  ],
});

/** Steps: 60, 30 and 7 days before an end and 1 after; 30 and 7 days before a report is due and 1 and 15 after. */
const cases: [says: string, today: string, known: object, keys: string[]][] = [
  ['long before', '2026-10-01', { filed: [{ fromOn: '2025-01-01', untilOn: '2025-12-31' }] }, []],
  ['31 days before a report', '2025-12-31', {}, []],
  ['30 days before it', '2026-01-01', {}, ['report:c1:2025-12-31:2026-01-31:-30']],
  ['between two steps the earlier one', '2026-01-20', {}, ['report:c1:2025-12-31:2026-01-31:-30']],
  ['sent once', '2026-01-20', { sentKeys: ['report:c1:2025-12-31:2026-01-31:-30'] }, []],
  ['on the day', '2026-01-31', {}, ['report:c1:2025-12-31:2026-01-31:-7']],
  ['a day late', '2026-02-01', {}, ['report:c1:2025-12-31:2026-01-31:1']],
  ['after a long sleep the latest only', '2026-08-01', {}, ['report:c1:2025-12-31:2026-01-31:15']],
  ['signed', '2026-02-01', { filed: [{ fromOn: '2025-01-01', untilOn: '2025-12-31' }] }, []],
  ['a year before it was entered', '2026-02-01', { enteredOn: '2026-01-15' }, []],
  ['60 days before its end', '2027-05-01', SIGNED(), ['expiring:2027-06-30:-60']],
  ['a week before', '2027-06-24', SIGNED(), ['expiring:2027-06-30:-7']],
  ['a day after', '2027-07-01', SIGNED(), ['expiring:2027-06-30:1']],
  ['renewed', '2027-07-01', { ...SIGNED(), renewed: true }, []],
];
function SIGNED() {
  return {
    filed: [
      { fromOn: '2025-01-01', untilOn: '2025-12-31' },
      { fromOn: '2026-01-01', untilOn: '2026-12-31' },
    ],
  };
}

describe('what permit officers are reminded of', () => {
  it.each(cases)('%s', (_, today, known, keys) =>
    expect(
      duePermitReminders(PERMIT, today, {
        enteredOn: '2025-01-01',
        filed: [],
        renewed: false,
        sentKeys: [],
        ...known,
      }).map(({ key }) => key),
    ).toEqual(keys),
  );

  it('says how many days are left, or how late it is', () => {
    const [ahead] = duePermitReminders(PERMIT, '2027-06-20', {
      enteredOn: '2025-01-01',
      renewed: false,
      sentKeys: [],
      ...SIGNED(),
    });
    expect(ahead).toMatchObject({ what: 'expiring', days: 10 });
    const [late] = duePermitReminders(PERMIT, '2026-02-15', {
      enteredOn: '2025-01-01',
      renewed: false,
      sentKeys: [],
      filed: [],
    });
    expect(late).toMatchObject({ what: 'report-due', days: -15 });
  });
});
