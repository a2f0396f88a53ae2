import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkProportions, expectedLengthMm, expectedMassG } from '@/lib/bench/allometry';
import { checkRecord, judgeNumbers } from '@/lib/bench/checks';
import { placeGonadInSeason } from '@/lib/bench/gonads';
import {
  choosePeers,
  judgeAgainstPeers,
  modifiedZScore,
  monthsApart,
  type PeerBird,
  stripPlot,
} from '@/lib/bench/plausibility';
import { sizeClassOf } from '@/lib/bench/size-limits';
import { checkWingSum, handWingIndex, sumMoultScores } from '@/lib/bench/wing';

const robins = {
  name: 'female robins',
  values: Array.from({ length: 24 }, (_, at) => (at === 0 ? 104 : at === 1 ? 128 : 112 + (at % 9))),
};
const wing = (value: number) => judgeAgainstPeers({ label: 'Wing', value, unit: 'mm' }, robins);

describe('a value among its peers', () => {
  it('says in a sentence that it lies beyond all', () => {
    expect(wing(151).sentence).toBe('Wing 151 mm: longer than all 24 female robins here (104–128)');
    expect(wing(90.5).sentence).toBe('Wing 90.5 mm: shorter than all 24 female robins here (104–128)');
    expect(wing(151).verdict).toBe('unusual');
  });

  it('says how many it exceeds when it lies within', () => {
    expect(wing(127).sentence).toBe('Wing 127 mm: longer than 23 of 24 female robins here (104–128)');
    expect(wing(116).verdict).toBe('usual');
  });

  it('uses the words of the measure', () => {
    const judged = { label: 'Mass', value: 99, unit: 'g', more: 'heavier', less: 'lighter' };
    const peers = { name: 'robins', values: [70, 72, 75, 77, 78] };
    expect(judgeAgainstPeers(judged, peers).sentence).toBe(
      'Mass 99 g: heavier than all 5 robins here (70–78)',
    );
  });

  it.each([
    [[], 'Wing 100 mm: cannot judge, no robins here yet'],
    [[1, 2, 3, 4], 'Wing 100 mm: cannot judge, only 4 robins here'],
    [
      [104, 104, 104, 104, 111],
      'Wing 100 mm: cannot judge, at least half of the 5 robins here have exactly 104 mm',
    ],
  ])('cannot judge against %j', (values, sentence) => {
    const judgement = judgeAgainstPeers(
      { label: 'Wing', value: 100, unit: 'mm' },
      { name: 'robins', values },
    );
    expect(judgement).toMatchObject({ verdict: 'cannot-judge', sentence });
  });

  it('has no score without spread', () => {
    expect(modifiedZScore(5, [])).toBeNull();
    expect(modifiedZScore(5, [3, 3, 3, 9])).toBeNull();
  });

  it('gives the same score on any scale: shifting and stretching all values changes nothing', () => {
    const list = fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 5, maxLength: 30 });
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 400 }),
        list,
        fc.integer({ min: 1, max: 50 }),
        fc.integer(),
        (value, peers, stretch, shift) => {
          const moved = modifiedZScore(
            value * stretch + (shift % 1000),
            peers.map((peer) => peer * stretch + (shift % 1000)),
          );
          const score = modifiedZScore(value, peers);
          if (score === null) expect(moved).toBeNull();
          else expect(moved).toBeCloseTo(score, 8);
        },
      ),
    );
  });
});

describe('choosing the peers', () => {
  const bird = (sex: string | null, month: number | null, value: number): PeerBird => ({
    taxonId: 't',
    sex,
    month,
    value,
  });
  const many = (count: number, sex: string, month: number) =>
    Array.from({ length: count }, (_, at) => bird(sex, month, at));
  const subject = { taxonId: 't', sex: 'female', month: 1 };

  it('takes sex and season, over the turn of the year, when there are enough', () => {
    const birds = [...many(3, 'female', 12), ...many(2, 'female', 2), ...many(9, 'female', 6)];
    expect(choosePeers(birds, subject, true)).toMatchObject({
      basis: 'same-taxon-sex-season',
      values: [0, 1, 2, 0, 1],
    });
  });

  it('widens step by step, and never beyond the taxon', () => {
    const birds = [
      ...many(4, 'female', 1),
      ...many(2, 'female', 6),
      ...many(9, 'male', 1),
      { ...bird('female', 1, 99), taxonId: 'u' },
    ];
    expect(choosePeers(birds, subject, true).basis).toBe('same-taxon-sex');
    expect(choosePeers(birds, { ...subject, sex: 'undetermined' }, true)).toMatchObject({
      basis: 'same-taxon',
    });
    expect(choosePeers(birds, { ...subject, sex: null }, true).values).toHaveLength(15);
    expect(choosePeers(many(2, 'male', 1), subject, true)).toMatchObject({
      basis: 'same-taxon',
      values: [0, 1],
    });
    expect(
      choosePeers([...many(5, 'female', 1), ...many(5, 'female', 6)], subject, false).values,
    ).toHaveLength(10);
  });

  it.each([
    [1, 12, 1],
    [1, 7, 6],
    [3, 3, 0],
    [11, 2, 3],
  ])('months %d and %d are %d apart', (a, b, apart) => expect(monthsApart(a, b)).toBe(apart));
});

describe('the strip plot', () => {
  it('stacks equal values and shows the usual band', () => {
    const plot = stripPlot(300, [10, 12, 12, 13, 12, 11, 14]);
    expect(plot.dots.filter(({ value }) => value === 12).map(({ level }) => level)).toEqual([0, 1, 2]);
    expect(plot.median).toBe(12);
    const [low, high] = plot.usual ?? [0, 0];
    expect(modifiedZScore(high, [10, 12, 12, 13, 12, 11, 14])).toBeCloseTo(3.5, 10);
    expect(modifiedZScore(low, [10, 12, 12, 13, 12, 11, 14])).toBeCloseTo(-3.5, 10);
    expect(plot.domain[0]).toBeLessThan(low);
    expect(plot.domain[1]).toBeGreaterThan(300);
  });

  it('shows no band where nothing can be judged, and has room for a lone value', () => {
    expect(stripPlot(5, [4, 4, 4, 4, 4]).usual).toBeNull();
    expect(stripPlot(5, [4, 6]).usual).toBeNull();
    const { domain, dots } = stripPlot(5, []);
    expect(domain[0]).toBeLessThan(domain[1]);
    expect(dots).toEqual([]);
  });
});

describe('proportions', () => {
  // American Robin, species means in AVONET: 78.5 g, wing 127.0, tarsus 32.7 mm.
  const robin = { massG: 78.5, wingMm: 127, tailMm: 99, tarsusMm: 32.7 };

  it('accepts a robin', () => expect(checkProportions(robin)).toEqual([]));

  it('names the length that slipped by a factor of ten', () => {
    expect(checkProportions({ ...robin, wingMm: 1270 }).map(({ field }) => field)).toEqual(['wingMm']);
    expect(checkProportions({ ...robin, tarsusMm: 3.27 }).map(({ field }) => field)).toEqual(['tarsusMm']);
  });

  it('names the mass when all lengths disagree with it', () => {
    const [finding, ...rest] = checkProportions({ wingMm: 127, tarsusMm: 32.7, massG: 7850 });
    expect(rest).toEqual([]);
    expect(finding?.field).toBe('massG');
    expect(finding?.sentence).toMatch(
      /^Mass 7850 g does not go with wing 127 mm, tarsus 32.7 mm: birds with these have /,
    );
    const [low, high] = finding?.expected ?? [0, 0];
    expect(low).toBeLessThan(78.5);
    expect(high).toBeGreaterThan(78.5);
  });

  it('says nothing without a mass', () => expect(checkProportions({ wingMm: 5 })).toEqual([]));

  it('is stricter with the typical measures of the taxon, and lets a large bird be large', () => {
    expect(checkProportions({ massG: 102, wingMm: 139, tailMm: 108, tarsusMm: 35.8 }, robin)).toEqual([]);
    const [finding] = checkProportions({ ...robin, tailMm: 69 }, robin);
    expect(finding?.field).toBe('tailMm');
    expect(finding?.sentence).toBe('Tail 69 mm: by its other measures this bird should have 79.2–124 mm');
    expect(checkProportions({ ...robin, massG: 300 }, robin).map(({ field }) => field)).toEqual(['massG']);
  });

  it('reads the mass back from a length on the same line', () => {
    const [low, high] = expectedLengthMm('wingMm', 50, 0);
    expect(low).toBe(high);
    expect(expectedMassG('wingMm', low, 0)[0]).toBeCloseTo(50, 8);
  });
});

describe('the wing', () => {
  it('has no index without sense', () => {
    expect(handWingIndex(0, 100)).toBeNull();
    expect(handWingIndex(120, 100)).toBeNull();
    expect(handWingIndex(10, Number.NaN)).toBeNull();
  });

  it('says when the parts do not add up', () => {
    const sum = checkWingSum(127, 30, 90);
    expect(sum).toMatchObject({ consistent: false, differenceMm: -7 });
    expect(sum.sentence).toBe("First secondary 90 + Kipp's distance 30 = 120 mm, but the wing is 127 mm");
  });

  it('sums only moult scores', () => {
    expect(sumMoultScores('555600')).toBeNull();
    expect(sumMoultScores('')).toBeNull();
    expect(sumMoultScores('000000000')).toMatchObject({ sum: 0, most: 45, growing: 0 });
  });
});

describe('a gonad in its season', () => {
  const subject = {
    taxonId: 't',
    sex: 'male',
    month: 5,
    label: 'Left testis',
    peersName: 'male robins of May',
  };
  const peer = (month: number, lengthMm: number, widthMm?: number) => ({
    taxonId: 't',
    sex: 'male',
    month,
    size: { lengthMm, widthMm },
  });
  const peers = [
    peer(5, 9, 6),
    peer(5, 9.5, 6),
    peer(5, 10, 7),
    peer(5, 8, 6),
    peer(5, 9, 5.5),
    peer(11, 1, 0.5),
  ];

  it('is held against the same month only, by volume', () => {
    const placed = placeGonadInSeason({ lengthMm: 1, widthMm: 0.5 }, subject, peers);
    expect(placed.volumeMm3).toBeCloseTo(0.131, 3);
    expect(placed.judgement.sentence).toMatch(
      /^Left testis, volume 0.13 mm³: smaller than all 5 male robins of May here/,
    );
  });

  it('falls back to the length without a width', () => {
    expect(placeGonadInSeason({ lengthMm: 9 }, subject, peers)).toMatchObject({
      volumeMm3: null,
      judgement: { n: 5 },
    });
  });
});

describe('a whole record', () => {
  it('has no warnings when it is sound', () => {
    const values = {
      massG: 78.5,
      wingMm: 127,
      tailMm: 99,
      sex: 'male',
      organsSeen: ['left-testis', 'right-testis'],
    } as const;
    expect(checkRecord({ ...values, organsSeen: [...values.organsSeen] })).toEqual([]);
  });

  it('gathers the warnings of every check', () => {
    const warnings = checkRecord(
      {
        massG: 78.5,
        wingMm: 1000,
        kippsDistanceMm: 30,
        firstSecondaryMm: 90,
        sex: 'male',
        molecularSex: 'female',
        skullOssificationPct: 100,
        bursa: { state: 'present' },
      },
      { peers: { wingMm: robins } },
    );
    expect(warnings.map(({ check, field }) => `${check} ${field}`)).toEqual([
      'size wingMm',
      'peers wingMm',
      'proportions wingMm',
      'wing-sum kippsDistanceMm',
      'sex sex',
      'age age',
    ]);
    expect(warnings[0]?.sentence).toBe(
      'Wing 1000 mm: far outside what birds of this size have (40 to 150 g: 41–360 mm). Check the unit and the decimal mark',
    );
  });

  it('gives a corrected figure another key, so that an override does not cover it', () => {
    const key = (wingMm: number) => checkRecord({ wingMm }, { taxonMassG: 78 })[0]?.key;
    expect(key(1000)).not.toBe(key(1001));
    expect(key(1000)).toBe(key(1000));
  });

  it('judges each number that has peers, also when all is usual', () => {
    expect(judgeNumbers({ wingMm: 116, tailMm: 99 }, { peers: { wingMm: robins } })).toMatchObject({
      wingMm: { verdict: 'usual' },
    });
  });

  it('knows a size class for every mass', () => {
    expect(sizeClassOf(12).label).toBe('12 to 40 g');
    expect(sizeClassOf(111_000).label).toBe('from 10 kg');
    expect(() => sizeClassOf(-1)).toThrow(RangeError);
  });
});
