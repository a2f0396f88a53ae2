import type { BenchValues } from '@/lib/bench/fields';
import { say } from '@/lib/platform/words/say';

/** Ages that evidence can speak for: hatched within about the last year, or older. */
export type AgeGroup = 'young' | 'older';

export interface AgeFinding {
  evidence: 'skull' | 'bursa' | 'plumage';
  seen: string;
  /** What it speaks for, and no more; null when it speaks for nothing. */
  supports: AgeGroup | null;
  /** Does it exclude the other group? */
  excludes: boolean;
  /** What it does not prove. */
  caution: string;
  source: string;
}

export interface AgeFromEvidence {
  age: AgeGroup | 'undetermined';
  confidence: 'probable' | 'weak' | 'none';
  findings: AgeFinding[];
  contradictions: string[];
}

const SKULL_SOURCE = 'Svensson 1992, as cited in the bird-ringing literature';
const BURSA_SOURCE = 'McNeil & Burton, citing Davis 1947';
const COMMON = 'Common practice, no source';

/** What skull, bursa and plumage support together. Undetermined is a good answer. */
export function deriveAge(values: BenchValues): AgeFromEvidence {
  const findings = [readSkull(values), readBursa(values), readPlumage(values)].filter((one) => one !== null);
  const speaking = findings.filter(({ supports }) => supports !== null);
  const groups = new Set(speaking.map(({ supports }) => supports));
  const [first] = speaking;
  if (!first?.supports) return { age: 'undetermined', confidence: 'none', findings, contradictions: [] };
  const excluding = speaking.find(({ excludes }) => excludes);
  if (groups.size > 1) {
    const sides = speaking.map(({ seen, supports }) =>
      supports === 'young'
        ? say('{seen} speaks for a young bird', { seen })
        : say('{seen} speaks for an older bird', { seen }),
    );
    return excluding?.supports
      ? { age: excluding.supports, confidence: 'weak', findings, contradictions: [sides.join('; ')] }
      : { age: 'undetermined', confidence: 'none', findings, contradictions: [sides.join('; ')] };
  }
  const confidence = excluding || speaking.length > 1 ? 'probable' : 'weak';
  return { age: first.supports, confidence, findings, contradictions: [] };
}

/** Some passerines ossify within two months, others keep windows as adults: both ends prove little. */
function readSkull({ skullOssificationPct: percent }: BenchValues): AgeFinding | null {
  if (percent === undefined) return null;
  const whole = percent === 100;
  return {
    evidence: 'skull',
    seen: whole ? say('A fully ossified skull') : say('A skull ossified to {percent} %', { percent }),
    supports: whole ? 'older' : 'young',
    excludes: false,
    caution: whole
      ? say('Does not prove an adult: some passerines finish within two months of hatching')
      : say('Does not prove a young bird: some species keep windows as adults'),
    source: SKULL_SOURCE,
  };
}

function readBursa({ bursa }: BenchValues): AgeFinding | null {
  if (!bursa) return null;
  if (bursa.state === 'not-looked-for') {
    const caution = say('Not looked for: it says nothing');
    return {
      evidence: 'bursa',
      seen: say('The bursa'),
      supports: null,
      excludes: false,
      caution,
      source: COMMON,
    };
  }
  const present = bursa.state === 'present';
  return {
    evidence: 'bursa',
    seen: present ? say('A bursa') : say('No bursa'),
    supports: present ? 'young' : 'older',
    excludes: false,
    caution: present
      ? say('It peaks at 4 to 6 months and then shrinks; how long a remnant stays differs by species')
      : say('Does not prove an adult: it may have shrunk already in the first year, or been overlooked'),
    source: BURSA_SOURCE,
  };
}

function readPlumage({ plumageAge }: BenchValues): AgeFinding | null {
  switch (plumageAge) {
    case 'downy':
    case 'juvenile':
      return {
        evidence: 'plumage',
        seen: plumageAge === 'downy' ? say('Down') : say('Juvenile plumage'),
        supports: 'young',
        excludes: true,
        caution: say(
          'How long juvenile plumage is worn differs by species: weeks in many small birds, a year in some large ones',
        ),
        source: COMMON,
      };
    case 'mixed':
      return {
        evidence: 'plumage',
        seen: say('Juvenile beside later feathers'),
        supports: 'young',
        excludes: false,
        caution: say('Large species keep single juvenile feathers for two years or more'),
        source: COMMON,
      };
    case 'definitive':
      return {
        evidence: 'plumage',
        seen: say('Definitive plumage'),
        supports: 'older',
        excludes: false,
        caution: say('Does not prove an adult: many species look alike from their first autumn on'),
        source: COMMON,
      };
    default:
      return null;
  }
}
