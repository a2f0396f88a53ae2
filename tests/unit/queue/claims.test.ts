import { describe, expect, it } from 'vitest';
import { type ClaimFacts, mayReceiveBird, mayTakeBird, skillLevelFor } from '@/lib/queue/rules/claims';
import { claimExpiresAt, dueClaimSteps, type OpenClaim } from '@/lib/queue/rules/expiry';
import { claimSettingsSchema, type Skill, type SkillLevel } from '@/lib/queue/schema';

const settings = claimSettingsSchema.parse({});
const skin = (level: SkillLevel): Skill => ({
  style: 'skin-with-partial-skeleton',
  sizeClass: 'small',
  level,
});
const facts = (change: Partial<ClaimFacts> = {}): ClaimFacts => ({
  person: { personId: 'ines', skills: [skin('alone')], openClaims: 0 },
  bird: { state: 'queued', holds: [], style: 'skin-with-partial-skeleton', sizeClass: 'small' },
  supervisor: null,
  ...change,
});
const trainee = { personId: 'ines', skills: [skin('training')], openClaims: 0 };
const supervisor = { personId: 'oda', supervises: true, skills: [skin('alone')] };

describe('who may take a bird', () => {
  it('takes the highest level of several entries, and none for another size', () => {
    expect(skillLevelFor([skin('training'), skin('alone'), skin('supervised')], facts().bird as never)).toBe(
      'alone',
    );
    expect(
      skillLevelFor([skin('alone')], { style: 'skin-with-partial-skeleton', sizeClass: 'large' }),
    ).toBeNull();
  });

  it.each<[string, Partial<ClaimFacts>, string | null]>([
    ['works alone', {}, null],
    ['bird taken by somebody else', { bird: { ...facts().bird, state: 'claimed' } }, 'not-from-here'],
    ['bird on hold', { bird: { ...facts().bird, holds: ['legal'] } }, 'on-hold'],
    ['no preparation chosen', { bird: { ...facts().bird, style: null } }, 'no-style'],
    ['another size than signed off', { bird: { ...facts().bird, sizeClass: 'large' } }, 'no-skill'],
    ['trainee without supervisor', { person: trainee }, 'needs-supervisor'],
    ['trainee beside a supervisor', { person: trainee, supervisor }, null],
    [
      'trainee naming themselves',
      { person: trainee, supervisor: { ...supervisor, personId: 'ines' } },
      'own-supervisor',
    ],
    [
      'beside one who may not supervise',
      { person: trainee, supervisor: { ...supervisor, supervises: false } },
      'not-a-supervisor',
    ],
    [
      'beside one who learns it too',
      { person: trainee, supervisor: { ...supervisor, skills: [skin('supervised')] } },
      'not-a-supervisor',
    ],
    ['at the limit of open claims', { person: { ...facts().person, openClaims: 3 } }, 'too-many-claims'],
    ['one below the limit', { person: { ...facts().person, openClaims: 2 } }, null],
  ])('%s', (_name, change, code) => {
    const verdict = mayTakeBird(facts(change), settings);
    expect(verdict.ok ? null : verdict.code).toBe(code);
  });

  it('hands a bird over only to somebody who could take it', () => {
    const thawing = { ...facts().bird, state: 'thawing' as const };
    expect(mayReceiveBird(facts({ bird: thawing }), settings)).toEqual({ ok: true, level: 'alone' });
    expect(mayReceiveBird(facts({ bird: thawing, person: trainee }), settings)).toMatchObject({
      code: 'needs-supervisor',
    });
    expect(mayReceiveBird(facts(), settings)).toMatchObject({ code: 'not-from-here' });
  });
});

describe('claims that come to their end', () => {
  const taken = new Date('2026-03-01T10:00:00Z');
  const at = (day: string) => new Date(`2026-03-${day}T10:00:00Z`);
  const claim = (change: Partial<OpenClaim> = {}): OpenClaim => ({
    birdId: 'b1',
    state: 'claimed',
    expiresAt: claimExpiresAt(taken, settings),
    noticedAt: null,
    ...change,
  });

  it('lasts the days of the setting', () => {
    expect(claimExpiresAt(taken, settings)).toEqual(at('15'));
  });

  it.each<[string, OpenClaim, string, string | null]>([
    ['early: nothing', claim(), '11', null],
    ['three days before: tell', claim(), '12', 'tell'],
    ['told already, not yet over: nothing', claim({ noticedAt: at('12') }), '14', null],
    ['told and over: run out', claim({ noticedAt: at('12') }), '15', 'run-out'],
    ['over but never told: tell first', claim(), '20', 'tell'],
    ['told late: a full notice period must pass', claim({ noticedAt: at('20') }), '22', null],
    ['told late, then the period passed', claim({ noticedAt: at('20') }), '23', 'run-out'],
    ['a thawing bird never runs out', claim({ state: 'thawing', noticedAt: at('12') }), '20', null],
  ])('%s', (_name, open, day, step) => {
    expect(dueClaimSteps([open], at(day), settings)[0]?.step ?? null).toBe(step);
  });
});
