import { describe, expect, it } from 'vitest';
import type { NoticeKind } from '@/lib/notices/kinds';
import { hearableSubjects } from '@/lib/notices/policy';
import { allPreferences, type Candidate, listenersOf, whoIsTold } from '@/lib/notices/rules/telling';
import type { CommentSubject, Preference } from '@/lib/notices/schema';
import type { Role } from '@/lib/platform/permissions';

describe('who listens to a comment', () => {
  const follows = (personId: string, stopped = false) => ({ personId, stopped });
  const cases: [
    says: string,
    comment: Partial<Parameters<typeof listenersOf>[0]>,
    mentioned: string[],
    following: string[],
  ][] = [
    ['nobody follows, nobody is mentioned', {}, [], []],
    ['the author is never told of their own', { mentioned: ['me'], followers: [follows('me')] }, [], []],
    ['mentioned once, however often', { mentioned: ['a', 'a'] }, ['a'], []],
    ['a mention wins over following', { mentioned: ['a'], followers: [follows('a')] }, ['a'], []],
    ['followers', { followers: [follows('a'), follows('b')] }, [], ['a', 'b']],
    ['who works on the bird', { workers: ['prep', null, 'scribe'] }, [], ['prep', 'scribe']],
    ['who stopped is told nothing', { followers: [follows('prep', true)], workers: ['prep'] }, [], []],
    ['but for a mention', { mentioned: ['prep'], followers: [follows('prep', true)] }, ['prep'], []],
    ['who follows and works is told once', { followers: [follows('a')], workers: ['a', 'a'] }, [], ['a']],
  ];
  it.each(cases)('%s', (_, comment, mentioned, following) =>
    expect(listenersOf({ authorId: 'me', mentioned: [], followers: [], workers: [], ...comment })).toEqual({
      mentioned,
      following,
    }),
  );
});

describe('who is told, and how', () => {
  const person = (roles: Role[], wish: Preference | null = null, active = true): Candidate => ({
    personId: 'p',
    active,
    roles,
    wish,
  });
  const by = (mail: Preference['mail'], inApp = true): Preference => ({ mail, inApp });
  type What = { kind: NoticeKind; subjectType: CommentSubject; sensitive?: boolean; byId?: string };
  const MENTION: What = { kind: 'notices.mentioned', subjectType: 'bird' };
  const OVERDUE: What = { kind: 'loans.overdue', subjectType: 'loan' };
  const cases: [says: string, what: What, who: Candidate, mailWorks: boolean, told: string][] = [
    ['without a wish, as the kind says', MENTION, person(['volunteer']), true, 'app at-once'],
    ['as wished', MENTION, person(['volunteer'], by('daily')), true, 'app daily'],
    ['in the app only', MENTION, person(['volunteer'], by('off')), true, 'app none'],
    ['by mail only', MENTION, person(['volunteer'], by('at-once', false)), true, '- at-once'],
    ['not at all', MENTION, person(['volunteer'], by('off', false)), true, 'nothing'],
    ['what cannot be mailed is shown', MENTION, person(['volunteer'], by('daily', false)), false, 'app none'],
    ['not at all stays so without mail', MENTION, person(['volunteer'], by('off', false)), false, 'nothing'],
    ['a closed account', MENTION, person(['curator'], null, false), true, 'nothing'],
    ['who did it', { ...MENTION, byId: 'p' }, person(['curator']), true, 'nothing'],
    ['a visitor', MENTION, person(['visitor']), true, 'nothing'],
    ['a visitor by wish', MENTION, person(['visitor'], by('at-once')), true, 'nothing'],
    ['an administrator only', OVERDUE, person(['administrator']), true, 'nothing'],
    ['somebody without any role here', OVERDUE, person([]), true, 'nothing'],
    ['a registrar of a loan', OVERDUE, person(['registrar']), true, 'app at-once'],
    [
      'sensitive: not whom the place is kept from',
      { ...MENTION, sensitive: true },
      person(['volunteer']),
      true,
      'nothing',
    ],
    [
      'sensitive: who may know the place',
      { ...MENTION, sensitive: true },
      person(['curator']),
      true,
      'app at-once',
    ],
    [
      'sensitive: what is no free text reaches the volunteer',
      { kind: 'queue.claim-ending', subjectType: 'bird', sensitive: true },
      person(['volunteer']),
      true,
      'app at-once',
    ],
  ];
  it.each(cases)('%s', (_, what, who, mailWorks, told) => {
    const tellings = whoIsTold({ sensitive: false, byId: null, ...what }, [who], mailWorks);
    const said = tellings.map(({ inApp, mail }) => `${inApp ? 'app' : '-'} ${mail}`);
    expect(said).toEqual(told === 'nothing' ? [] : [told]);
  });

  it.each<[Role, number]>([
    ['visitor', 0],
    ['administrator', 2],
    ['volunteer', 7],
    ['permit-officer', 7],
  ])('the role %s may hear of %i kinds of record', (role, count) =>
    expect(hearableSubjects({ personId: 'p', roles: [role] })).toHaveLength(count),
  );

  it('a token without the scope hears nothing', () =>
    expect(hearableSubjects({ personId: 'p', roles: ['curator'], scopes: ['loans.see'] })).toEqual([]));

  it('every kind has a line to choose in, with the wish where there is one', () => {
    const rows = allPreferences([{ kind: 'loans.overdue', inApp: false, mail: 'off' }]);
    expect(new Set(rows.map(({ kind }) => kind)).size).toBe(rows.length);
    expect(rows.find(({ kind }) => kind === 'loans.overdue')).toMatchObject({ inApp: false, mail: 'off' });
    expect(rows.find(({ kind }) => kind === 'loans.due-soon')).toMatchObject({ inApp: true });
  });
});
