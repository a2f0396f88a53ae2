import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { NOTICE_KINDS, type NoticeContent, readContent } from '@/lib/notices/kinds';
import { digestOf, groupNotices, letterOf, type MailedNotice } from '@/lib/notices/rules/mail';
import { KIND_WORDS, noticeHref, sayNotice } from '@/lib/notices/rules/sentences';
import { COMMENT_SUBJECTS, NOTICE_SUBJECTS } from '@/lib/notices/schema';

const CASES: [NoticeContent, string][] = [
  [
    { kind: 'notices.mentioned', facts: { by: 'Ana Lund', what: 'loan L-1' } },
    'Ana Lund mentioned you in a comment on loan L-1.',
  ],
  [{ kind: 'notices.commented', facts: { by: 'Ana Lund', what: 'S-1' } }, 'Ana Lund commented on S-1.'],
  [
    { kind: 'bench.returned', facts: { prepNumber: 'AL 7', bird: 'S-1', remarks: 1 } },
    'Your bench record AL 7 (S-1) came back from review with 1 remark.',
  ],
  [
    { kind: 'bench.returned', facts: { prepNumber: 'AL 7', bird: 'S-1', remarks: 3 } },
    'Your bench record AL 7 (S-1) came back from review with 3 remarks.',
  ],
  [
    { kind: 'catalogue.approved', facts: { prepNumber: 'AL 7', bird: 'S-1', catalogueNumber: 'B 12' } },
    'Your bench record AL 7 (S-1) was approved: it is catalogued as B 12.',
  ],
  [
    { kind: 'queue.assigned', facts: { bird: 'S-1', by: 'Ana Lund', how: 'handed-over', day: null } },
    'Ana Lund handed S-1 over to you.',
  ],
  [
    { kind: 'queue.assigned', facts: { bird: 'S-1', by: 'Ana Lund', how: 'co-worker', day: null } },
    'Ana Lund named you to work on S-1 together.',
  ],
  [
    { kind: 'queue.assigned', facts: { bird: 'S-1', by: 'Ana Lund', how: 'day-plan', day: '2026-05-02' } },
    'The plan for 2 May 2026 gives you S-1.',
  ],
  [
    { kind: 'queue.claim-ending', facts: { bird: 'S-1', daysLeft: 0 } },
    'Your claim on S-1 ends soon. Take it out of the freezer, or put it back for somebody else.',
  ],
  [
    { kind: 'queue.claim-ending', facts: { bird: 'S-1', daysLeft: 1 } },
    'Your claim on S-1 ends in 1 day. Take it out of the freezer, or put it back for somebody else.',
  ],
  [
    { kind: 'queue.claim-ran-out', facts: { bird: 'S-1' } },
    'Your claim on S-1 has ended; the bird is in the queue again.',
  ],
  [
    { kind: 'loans.due-soon', facts: { loan: 'L-1', institution: 'Marrow Ridge', days: 0 } },
    'Loan L-1 to Marrow Ridge is due back today.',
  ],
  [
    { kind: 'loans.due-soon', facts: { loan: 'L-1', institution: 'Marrow Ridge', days: 14 } },
    'Loan L-1 to Marrow Ridge is due back in 14 days.',
  ],
  [
    { kind: 'loans.overdue', facts: { loan: 'L-1', institution: 'Marrow Ridge', days: 1 } },
    'Loan L-1 to Marrow Ridge is 1 day overdue.',
  ],
  [
    {
      kind: 'permits.expiring',
      facts: { permit: 'P-1', authority: 'Bird Office', on: '2026-06-30', days: 30 },
    },
    'Permit P-1 of Bird Office ends in 30 days (30 Jun 2026).',
  ],
  [
    {
      kind: 'permits.expiring',
      facts: { permit: 'P-1', authority: 'Bird Office', on: '2026-06-30', days: -1 },
    },
    'Permit P-1 of Bird Office ended on 30 Jun 2026.',
  ],
  [
    {
      kind: 'permits.report-due',
      facts: { permit: 'P-1', fromOn: '2025-01-01', untilOn: '2025-12-31', dueOn: '2026-01-31', days: 7 },
    },
    'The report of permit P-1 for 1 Jan – 31 Dec 2025 is due in 7 days (31 Jan 2026).',
  ],
  [
    {
      kind: 'permits.report-due',
      facts: { permit: 'P-1', fromOn: '2025-01-01', untilOn: '2025-12-31', dueOn: '2026-01-31', days: -15 },
    },
    'The report of permit P-1 for 1 Jan – 31 Dec 2025 is 15 days overdue.',
  ],
  [
    { kind: 'salvage.hold-placed', facts: { find: 'S-1', hold: 'contact-first', tellOutside: true } },
    'S-1 is on hold (contact first). Somebody outside must be told: the record says whom.',
  ],
  [
    { kind: 'salvage.hold-placed', facts: { find: 'S-1', hold: 'disease', tellOutside: false } },
    'S-1 is on hold (disease).',
  ],
  [
    { kind: 'loans.asked-by-link', facts: { loan: 'L-1', link: 'the university' } },
    'Loan L-1 was asked for from outside, through the link for the university. Choose its materials and decide.',
  ],
  [
    { kind: 'exchange.webhook-stopped', facts: { webhook: 'Feed', deliveries: 5 } },
    'The webhook Feed was switched off: 5 deliveries in a row did not arrive.',
  ],
];

describe('sentences', () => {
  it.each(CASES)('%o', (content, sentence) => expect(sayNotice(content)).toBe(sentence));

  it('every kind has its sentence here, and a name to choose by', () => {
    expect(new Set(CASES.map(([{ kind }]) => kind))).toEqual(new Set(NOTICE_KINDS));
    expect(Object.keys(KIND_WORDS).sort()).toEqual([...NOTICE_KINDS].sort());
  });

  it('is one line, whatever a name holds: nothing can add to the head of a mail', () => {
    const content = readContent('notices.commented', {
      by: 'Ana\r\nBcc: all@museum.example',
      what: 'S-1\u2028x',
    });
    expect(sayNotice(content)).toBe('Ana Bcc: all@museum.example commented on S-1 x.');
  });

  it('keeps nothing that the kind does not name', () => {
    const facts = {
      find: 'S-1',
      hold: 'legal',
      tellOutside: false,
      locality: 'Hollow Pike',
      finder: 'Berta',
    };
    expect(readContent('salvage.hold-placed', facts).facts).toEqual({
      find: 'S-1',
      hold: 'legal',
      tellOutside: false,
    });
    expect(() => readContent('salvage.hold-placed', { find: 'S-1' })).toThrow();
    expect(() => readContent('salvage.gossip', {})).toThrow();
  });

  it.each(COMMENT_SUBJECTS)('%s has a page, and talk leads to its comments', (type) => {
    expect(noticeHref('loans.overdue', type, 'X')).toMatch(/^\/[a-z]+\/X$/);
    expect(noticeHref('notices.mentioned', type, 'X')).toMatch(/^\/[a-z]+\/X#comments$/);
  });
});

it('a notice of a webhook leads to the page of webhooks', () =>
  expect(noticeHref('exchange.webhook-stopped', 'webhook', 'X')).toBe('/exchange/webhooks'));

describe('the database knows the same words', () => {
  const migrations = path.resolve(import.meta.dirname, '../../../prisma/migrations');
  const sql = readdirSync(migrations, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort()
    .map((name) => readFileSync(path.join(migrations, name, 'migration.sql'), 'utf8'))
    .join('\n');
  /** The words of a check as the last migration that made it has them. */
  const listed = (name: string) =>
    [
      ...(sql.split(`ADD CONSTRAINT ${name} CHECK`).at(-1)?.split('))')[0] ?? '').matchAll(/'([a-z.-]+)'/g),
    ].map(([, word]) => word);
  it.each([
    ['notice_kind', NOTICE_KINDS],
    ['notice_preference_kind', NOTICE_KINDS],
    ['notice_subject', NOTICE_SUBJECTS],
    ['comment_subject', COMMENT_SUBJECTS],
    ['follow_subject', COMMENT_SUBJECTS],
  ])('%s', (name, words) => expect(listed(name)).toEqual([...words]));
});

describe('mail', () => {
  const BASE = 'https://birds.museum.example/';
  const overdue = (loan: string): MailedNotice => ({
    kind: 'loans.overdue',
    facts: { loan, institution: 'Marrow Ridge', days: 3 },
    subjectType: 'loan',
    subjectId: loan,
  });
  const said: MailedNotice = {
    kind: 'notices.commented',
    facts: { by: 'Ana Lund', what: 'S-1' },
    subjectType: 'bird',
    subjectId: 'b1',
  };

  it('one notice: the sentence, the way there, the way to end it', () => {
    const { subject, text } = letterOf(overdue('L-1'), BASE);
    expect(subject).toBe('Loan L-1 to Marrow Ridge is 3 days overdue.');
    expect(text.split('\n').slice(0, 2)).toEqual([subject, 'https://birds.museum.example/loans/L-1']);
    expect(text).toContain('https://birds.museum.example/notices/preferences');
  });

  it('without a known address it says where to look', () => {
    const { text } = letterOf(said, null);
    expect(text).not.toMatch(/https?:|\/birds/);
    expect(text).toContain('under Notices, “What I am told”');
  });

  it('a day: under headings, what was said first; headings without any are left out', () => {
    const { subject, text } = digestOf([overdue('L-1'), said, overdue('L-2')], 'Birds of Quillmere', BASE);
    expect(subject).toBe('3 notices: Birds of Quillmere');
    const at = ['Said in comments', 'Ana Lund commented', 'Loans', 'L-1', 'L-2'].map((words) =>
      text.indexOf(words),
    );
    expect(at).toEqual([...at].sort((a, b) => a - b));
    expect(at[0]).toBeGreaterThan(-1);
    expect(text).not.toContain('Holds');
  });

  it('of very many, the first and how many more', () => {
    const { text } = digestOf(
      Array.from({ length: 50 }, (_, n) => overdue(`L-${n}`)),
      'Birds',
      BASE,
    );
    expect(text.match(/overdue/g)).toHaveLength(40);
    expect(text).toContain('And 10 more: https://birds.museum.example/notices');
  });

  it('every kind stands under a heading', () => {
    const grouped = groupNotices(NOTICE_KINDS.map((kind) => ({ kind })));
    expect(grouped.flatMap(({ notices }) => notices)).toHaveLength(NOTICE_KINDS.length);
  });
});
