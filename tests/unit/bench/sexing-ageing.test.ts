import { describe, expect, it } from 'vitest';
import { deriveAge } from '@/lib/bench/ageing';
import type { BenchValues } from '@/lib/bench/fields';
import { compareWithDetermination, deriveSex } from '@/lib/bench/sexing';

const size = { lengthMm: 9, widthMm: 6 };

describe('sex from evidence', () => {
  const cases: [string, BenchValues, string, string][] = [
    ['nothing recorded', {}, 'undetermined', 'none'],
    ['both testes measured', { leftTestis: size, rightTestis: size }, 'male', 'certain'],
    ['both testes seen only', { organsSeen: ['left-testis', 'right-testis'] }, 'male', 'certain'],
    ['left testis alone', { leftTestis: size }, 'male', 'probable'],
    ['smooth ovary alone', { leftOvary: size, ovaryState: 'smooth' }, 'female', 'probable'],
    ['ovary with follicles', { leftOvary: size, largestFollicleMm: 1.2 }, 'female', 'certain'],
    ['granular ovary', { ovaryState: 'granular' }, 'female', 'certain'],
    ['ovary and oviduct', { leftOvary: size, oviductState: 'straight' }, 'female', 'certain'],
    ['oviduct alone', { organsSeen: ['oviduct'] }, 'female', 'probable'],
    ['plumage alone', { plumageSex: 'male' }, 'male', 'weak'],
    ['sexes alike', { plumageSex: 'sexes-alike' }, 'undetermined', 'none'],
    ['DNA alone', { molecularSex: 'female' }, 'female', 'certain'],
    ['failed DNA test', { molecularSex: 'failed' }, 'undetermined', 'none'],
    ['DNA confirms one testis', { leftTestis: size, molecularSex: 'male' }, 'male', 'certain'],
    [
      'plumage does not make one testis certain',
      { leftTestis: size, plumageSex: 'male' },
      'male',
      'probable',
    ],
    ['gonads destroyed', { organsSeen: ['destroyed'] }, 'undetermined', 'none'],
    ['gonads destroyed, plumage male', { organsSeen: ['destroyed'], plumageSex: 'male' }, 'male', 'weak'],
  ];
  it.each(cases)('%s', (_, values, sex, confidence) => {
    expect(deriveSex(values)).toMatchObject({ sex, confidence, contradictions: [] });
  });

  it('leaves testis beside ovary undetermined and shows the contradiction', () => {
    const derived = deriveSex({ leftTestis: size, rightOvary: size, plumageSex: 'male' });
    expect(derived).toMatchObject({ sex: 'undetermined', confidence: 'none' });
    expect(derived.contradictions[0]).toContain('Testis and ovary are both recorded');
  });

  it('leaves gonads against DNA undetermined', () => {
    const derived = deriveSex({ leftTestis: size, rightTestis: size, molecularSex: 'female' });
    expect(derived.sex).toBe('undetermined');
    expect(derived.contradictions).toEqual(['The gonads say male. The DNA test says female']);
  });

  it('believes gonads against plumage, with less confidence', () => {
    const derived = deriveSex({ leftOvary: size, largestFollicleMm: 2, plumageSex: 'male' });
    expect(derived).toMatchObject({ sex: 'female', confidence: 'probable' });
    expect(derived.contradictions).toEqual(['The gonads say female. The plumage says male']);
  });

  it('warns of a right or paired ovary without refusing it, except in kiwis (Kinsky 1971)', () => {
    const paired = { leftOvary: size, rightOvary: size, largestFollicleMm: 2 };
    expect(deriveSex(paired)).toMatchObject({ sex: 'female', confidence: 'certain' });
    expect(deriveSex(paired).warnings[0]).toMatch(/^Paired ovaries: .*86 species of 16 orders.*Kinsky 1971/);
    expect(deriveSex({ rightOvary: size }).warnings[0]).toMatch(/^A right ovary without a left one/);
    expect(deriveSex(paired, { order: 'Apterygiformes' }).warnings).toEqual([]);
    expect(deriveSex(paired, { order: 'Accipitriformes' }).warnings).toHaveLength(1);
  });

  it('asks for the left testis when only the right one is there', () => {
    expect(deriveSex({ rightTestis: size }).warnings[0]).toContain('look for the left one');
  });

  it('holds the determination against the evidence', () => {
    const say = (values: BenchValues) => compareWithDetermination(values, deriveSex(values));
    expect(say({ sex: 'male', molecularSex: 'female' })).toBe(
      'Determined as male, but the recorded evidence says female',
    );
    expect(say({ sex: 'male' })).toBe('Determined as male, but the recorded evidence does not settle it');
    expect(say({ sex: 'undetermined', molecularSex: 'female' })).toContain('says female');
    expect(say({ sex: 'female', molecularSex: 'female' })).toBeNull();
    expect(say({ sex: 'undetermined' })).toBeNull();
    expect(say({ molecularSex: 'female' })).toBeNull();
  });
});

describe('age from evidence', () => {
  const none = { state: 'none' } as const;
  const present = { state: 'present', lengthMm: 5 } as const;
  const cases: [string, BenchValues, string, string][] = [
    ['nothing recorded', {}, 'undetermined', 'none'],
    ['skull fully ossified: weak, it proves no adult', { skullOssificationPct: 100 }, 'older', 'weak'],
    ['skull windows: weak, they prove no young bird', { skullOssificationPct: 80 }, 'young', 'weak'],
    ['bursa present', { bursa: present }, 'young', 'weak'],
    ['bursa not looked for says nothing', { bursa: { state: 'not-looked-for' } }, 'undetermined', 'none'],
    ['skull and bursa agree: older', { skullOssificationPct: 100, bursa: none }, 'older', 'probable'],
    ['skull and bursa agree: young', { skullOssificationPct: 20, bursa: present }, 'young', 'probable'],
    ['juvenile plumage alone', { plumageAge: 'juvenile' }, 'young', 'probable'],
    ['definitive plumage alone', { plumageAge: 'definitive' }, 'older', 'weak'],
    ['mixed plumage alone', { plumageAge: 'mixed' }, 'young', 'weak'],
    ['not told by plumage', { plumageAge: 'not-told' }, 'undetermined', 'none'],
  ];
  it.each(cases)('%s', (_, values, age, confidence) => {
    expect(deriveAge(values)).toMatchObject({ age, confidence, contradictions: [] });
  });

  it('never says more than probable', () => {
    const all = deriveAge({ skullOssificationPct: 100, bursa: none, plumageAge: 'definitive' });
    expect(all).toMatchObject({ age: 'older', confidence: 'probable' });
    expect(
      all.findings.map(({ caution }) => caution).filter((text) => text.startsWith('Does not prove')),
    ).toHaveLength(3);
  });

  it('shows evidence that disagrees and leaves it open', () => {
    const derived = deriveAge({ skullOssificationPct: 100, bursa: present });
    expect(derived).toMatchObject({ age: 'undetermined', confidence: 'none' });
    expect(derived.contradictions).toEqual([
      'A fully ossified skull speaks for an older bird; A bursa speaks for a young bird',
    ]);
  });

  it('keeps a bird in juvenile plumage young, weakly, against an ossified skull', () => {
    const derived = deriveAge({ skullOssificationPct: 100, plumageAge: 'juvenile' });
    expect(derived).toMatchObject({ age: 'young', confidence: 'weak' });
    expect(derived.contradictions).toHaveLength(1);
  });

  it('names a source for each finding', () => {
    const { findings } = deriveAge({ skullOssificationPct: 50, bursa: none, plumageAge: 'downy' });
    expect(findings.map(({ evidence }) => evidence)).toEqual(['skull', 'bursa', 'plumage']);
    expect(findings.every(({ source }) => source.length > 5)).toBe(true);
  });
});
