import type { OrganId } from '@/lib/bench/catalogue/sexing';
import type { BenchValues } from '@/lib/bench/fields';
import type { Sex } from '@/lib/bench/schema';
import { say, sayCode } from '@/lib/platform/words/say';

export type Confidence = 'certain' | 'probable' | 'weak' | 'none';

export interface SexFromEvidence {
  sex: Sex;
  confidence: Confidence;
  reasons: string[];
  contradictions: string[];
  warnings: string[];
}

/** Facts about the taxon that change what the evidence means. */
export interface TaxonForSexing {
  /** Order of the taxon; only Apterygiformes consistently have paired ovaries. */
  order?: string | null;
}

type Organs = ReadonlySet<OrganId>;

/** Organs that were named as seen or that were measured. */
export function organsOf(values: BenchValues): Organs {
  const organs = new Set<OrganId>(values.organsSeen ?? []);
  if (values.leftTestis) organs.add('left-testis');
  if (values.rightTestis) organs.add('right-testis');
  if (values.testis) organs.add('testis');
  if (values.leftOvary) organs.add('left-ovary');
  if (values.rightOvary) organs.add('right-ovary');
  if (values.ovary || values.ovaryState || values.largestFollicleMm !== undefined) {
    if (!organs.has('left-ovary') && !organs.has('right-ovary')) organs.add('ovary');
  }
  if (values.oviductState || values.oviductWidthMm !== undefined) organs.add('oviduct');
  return organs;
}

const hasAny = (organs: Organs, ...ids: OrganId[]): boolean => ids.some((id) => organs.has(id));

/**
 * Sex from the evidence of a record, with reasons. Gonads come first, then DNA, then plumage; evidence that
 * disagrees is shown, never averaged. "Undetermined" is a good answer.
 */
export function deriveSex(values: BenchValues, taxon: TaxonForSexing = {}): SexFromEvidence {
  const organs = organsOf(values);
  const warnings = [...warnOfOvaries(organs, taxon), ...warnOfRightTestis(organs)];
  const gonads = sexByGonads(organs, values);
  const dna = sexByDna(values);
  const plumage = sexByPlumage(values);
  const found = [gonads, dna, plumage].filter((evidence) => evidence !== null);
  const reasons = [...found.flatMap(({ reasons: own }) => own), ...reasonsForNothing(organs)];
  const contradictions = [...(gonads?.contradictions ?? []), ...disagreements(found)];

  const best = found.find(({ sex }) => sex !== 'undetermined');
  if (!best || gonads?.contradictions.length || disagree(gonads, dna)) {
    return { sex: 'undetermined', confidence: 'none', reasons, contradictions, warnings };
  }
  const confidence = contradictions.length > 0 ? lower(best.confidence) : best.confidence;
  const confirmed = dna?.sex === best.sex && contradictions.length === 0;
  return { sex: best.sex, confidence: confirmed ? 'certain' : confidence, reasons, contradictions, warnings };
}

interface Evidence {
  /** Begins a sentence: "The gonads say". */
  says: string;
  sex: Sex;
  confidence: Confidence;
  reasons: string[];
  contradictions: string[];
}

const lower = (confidence: Confidence): Confidence => (confidence === 'certain' ? 'probable' : 'weak');

function sexByGonads(organs: Organs, values: BenchValues): Evidence | null {
  const testes = hasAny(organs, 'left-testis', 'right-testis', 'testis');
  const ovaries = hasAny(organs, 'left-ovary', 'right-ovary', 'ovary');
  const oviduct = organs.has('oviduct');
  if (!testes && !ovaries && !oviduct) return null;
  if (testes && (ovaries || oviduct)) {
    const clash = say(
      'Testis and {x} are both recorded: a slip, or a bird with organs of both sexes. Look again and keep photographs',
      { x: ovaries ? say('ovary') : say('oviduct') },
    );
    return {
      says: say('The gonads say'),
      sex: 'undetermined',
      confidence: 'none',
      reasons: [],
      contradictions: [clash],
    };
  }
  return {
    says: say('The gonads say'),
    contradictions: [],
    ...(testes ? judgeTestes(organs) : judgeOvary(ovaries, values, oviduct)),
  };
}

function judgeTestes(organs: Organs): Pick<Evidence, 'sex' | 'confidence' | 'reasons'> {
  if (organs.has('left-testis') && organs.has('right-testis')) {
    return { sex: 'male', confidence: 'certain', reasons: [say('Both testes seen')] };
  }
  return {
    sex: 'male',
    confidence: 'probable',
    reasons: [say('One testis seen: a small one alone can be taken for an adrenal gland or a smooth ovary')],
  };
}

function judgeOvary(
  ovary: boolean,
  values: BenchValues,
  oviduct: boolean,
): Pick<Evidence, 'sex' | 'confidence' | 'reasons'> {
  const reasons: string[] = [];
  if (ovary) reasons.push(say('Ovary seen'));
  const follicles = values.largestFollicleMm !== undefined || (values.ovaryState ?? 'smooth') !== 'smooth';
  if (follicles) reasons.push(say('Its surface shows follicles'));
  if (oviduct) reasons.push(say('Oviduct seen'));
  const structures = [ovary, follicles, oviduct].filter(Boolean).length;
  if (ovary && structures < 2) {
    reasons.push(
      say('Without follicles or oviduct a smooth ovary can be taken for a testis or an adrenal gland'),
    );
  }
  return { sex: 'female', confidence: structures >= 2 ? 'certain' : 'probable', reasons };
}

function sexByDna({ molecularSex }: BenchValues): Evidence | null {
  if (molecularSex !== 'female' && molecularSex !== 'male') return null;
  const reasons = [say('DNA test: {molecularSex}', { molecularSex })];
  return {
    says: say('The DNA test says'),
    sex: molecularSex,
    confidence: 'certain',
    reasons,
    contradictions: [],
  };
}

function sexByPlumage({ plumageSex }: BenchValues): Evidence | null {
  if (plumageSex !== 'female' && plumageSex !== 'male') return null;
  const reasons = [
    say('{x} plumage: as good as the sexes of this taxon differ', {
      x: plumageSex === 'male' ? say('Male') : say('Female'),
    }),
  ];
  return { says: say('The plumage says'), sex: plumageSex, confidence: 'weak', reasons, contradictions: [] };
}

function reasonsForNothing(organs: Organs): string[] {
  if (organs.has('destroyed')) return [say('Gonads destroyed or decomposed')];
  return organs.has('none-found') ? [say('Gonads looked for and not found')] : [];
}

const disagree = (a: Evidence | null, b: Evidence | null): boolean =>
  a !== null && b !== null && a.sex !== 'undetermined' && b.sex !== 'undetermined' && a.sex !== b.sex;

function disagreements(found: readonly Evidence[]): string[] {
  return found.flatMap((first, at) =>
    found
      .slice(at + 1)
      .filter((second) => disagree(first, second))
      .map((second) => `${first.says} ${sayCode(first.sex)}. ${second.says} ${sayCode(second.sex)}`),
  );
}

/**
 * Kinsky 1971: only kiwis have paired ovaries as a rule; they are recorded in at least 86 species of 16
 * orders, 52 % of those birds of prey. So a right ovary is believed, and worth a second look.
 */
function warnOfOvaries(organs: Organs, { order }: TaxonForSexing): string[] {
  if (!organs.has('right-ovary') || order === 'Apterygiformes') return [];
  const paired = organs.has('left-ovary');
  const what = paired ? say('Paired ovaries') : say('A right ovary without a left one');
  return [
    say(
      '{what}: uncommon but known from at least 86 species of 16 orders, half of them birds of prey (Kinsky 1971). Check the side, describe and photograph it',
      { what },
    ),
  ];
}

function warnOfRightTestis(organs: Organs): string[] {
  return organs.has('right-testis') && !organs.has('left-testis')
    ? [say('Only the right testis is recorded: look for the left one and measure it too')]
    : [];
}

/** Does the preparator's own determination differ from what the evidence says? A sentence, or null. */
export function compareWithDetermination(values: BenchValues, derived: SexFromEvidence): string | null {
  if (!values.sex || values.sex === derived.sex) return null;
  if (derived.sex === 'undetermined') {
    return values.sex === 'undetermined'
      ? null
      : say('Determined as {sex}, but the recorded evidence does not settle it', {
          sex: sayCode(values.sex),
        });
  }
  return say('Determined as {sex}, but the recorded evidence says {sex2}', {
    sex: sayCode(values.sex),
    sex2: sayCode(derived.sex),
  });
}
