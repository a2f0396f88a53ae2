import { describe, expect, it } from 'vitest';
import {
  changesBetween,
  draftOf,
  emptyDraft,
  nextDraft,
  readDate,
  toReport,
} from '@/components/salvage/find-state';
import type { Role } from '@/lib/platform/permissions';
import { acceptObstacle, findAbilitiesOf, mayChangeFind, mayPlaceHold } from '@/lib/salvage/policy';
import { type KeptFind, toCoverageFacts } from '@/lib/salvage/rules/find-facts';
import { codeSubdivision, nameSubdivision } from '@/lib/salvage/rules/subdivisions';
import { findFacts, reportFindRequest } from '@/lib/salvage/schema';
import type { SalvageRecord } from '@/lib/salvage/wire';

const kept = (changes: Partial<KeptFind> = {}): KeptFind => ({
  foundFrom: '2025-05-01',
  foundTo: '2025-05-03',
  receivedOn: '2025-05-04',
  country: 'US',
  stateProvince: 'Ohio',
  county: 'Franklin',
  specimenType: 'whole-bird',
  quantity: 1,
  bandNumber: null,
  bandReportedOn: null,
  diseaseSigns: false,
  suspectedIllegal: false,
  facts: findFacts.parse({}),
  taxon: null,
  finder: { name: null, reachable: false },
  ...changes,
});

describe('what the coverage check is asked', () => {
  it('the place by its code, and nothing where nothing is known', () => {
    expect(toCoverageFacts(kept(), 1).place).toEqual({
      country: 'US',
      subdivision: 'US-OH',
      county: 'Franklin',
    });
    const nowhere = kept({ country: '', stateProvince: '', county: '' });
    expect(toCoverageFacts(nowhere, 1).place).toEqual({ country: null, subdivision: null, county: null });
  });

  it('the tag says what the record holds, unless somebody read the tag', () => {
    const tag = (changes: Partial<KeptFind>) => toCoverageFacts(kept(changes), 1).tag;
    expect(tag({})).toEqual(['species', 'date', 'place']);
    expect(tag({ finder: { name: 'A', reachable: true } })).toHaveLength(5);
    expect(
      tag({ facts: findFacts.parse({ finderPersonId: '7b0d5d0e-58a5-4c4a-9d0e-0f5f6f6f6f6f' }) }),
    ).toHaveLength(5);
    expect(tag({ facts: findFacts.parse({ tag: ['date'] }) })).toEqual(['date']);
  });

  it('dead birds that nobody brought in count into the group', () => {
    expect(toCoverageFacts(kept({ facts: findFacts.parse({ othersDead: 4 }) }), 2).groupSize).toBe(6);
  });
});

describe('states and provinces', () => {
  it.each([
    ['US', 'OH', 'Ohio', 'US-OH'],
    ['US', 'us-oh', 'Ohio', 'US-OH'],
    ['US', ' ohio ', 'Ohio', 'US-OH'],
    ['US', 'newyork', 'New York', 'US-NY'],
    ['CA', 'Québec', 'Quebec', 'CA-QC'],
    ['US', 'Ontario', 'Ontario', null],
    ['MX', 'Sonora', 'Sonora', null],
    ['MX', 'MX-SON', 'MX-SON', 'MX-SON'],
    ['US', '', '', null],
  ])('%s, "%s" is %s with code %s', (country, written, name, code) => {
    expect(nameSubdivision(country, written)).toBe(name);
    expect(codeSubdivision(country, written)).toBe(code);
  });
});

const actor = (...roles: Role[]) => ({ personId: 'me', roles });
const standing = {
  loggedById: 'me',
  coverage: 'covered',
  openHolds: [],
  hasFinder: true,
  hasUnreportedBand: false,
} as const;

describe('who may do what with a find', () => {
  it.each([
    ['volunteer', 'reported', 'me', true],
    ['volunteer', 'reported', 'another', false],
    ['volunteer', 'in-triage', 'me', false],
    ['preparator', 'accepted', 'another', true],
    ['visitor', 'reported', 'me', false],
    ['administrator', 'reported', 'me', false],
  ] as const)('%s changes a %s record of %s: %s', (role, state, loggedById, may) => {
    expect(mayChangeFind(actor(role), { state, loggedById })).toBe(may);
  });

  it('holds of the law are the officer’s; disease is everybody’s in triage', () => {
    expect(mayPlaceHold(actor('curator'), 'disease')).toBe(true);
    expect(mayPlaceHold(actor('curator'), 'evidence')).toBe(false);
    expect(mayPlaceHold(actor('permit-officer'), 'evidence')).toBe(true);
    expect(mayPlaceHold(actor('volunteer'), 'disease')).toBe(false);
  });

  it.each([
    [{ state: 'reported' }, 'Begin triage'],
    [{ state: 'in-triage', openHolds: ['disease'] }, 'on hold'],
    [{ state: 'in-triage', coverage: 'not-covered' }, 'officer must rule'],
    [{ state: 'accepted' }, 'already'],
    [{ state: 'in-triage', openHolds: ['identification'], coverage: 'needs-attention' }, null],
  ] as const)('%j: %s', (changes, sentence) => {
    const obstacle = acceptObstacle({ ...standing, ...changes });
    if (sentence === null) expect(obstacle).toBeNull();
    else expect(obstacle).toContain(sentence);
  });

  it('finder’s data are for registrar and officer', () => {
    const sees = (role: Role) => findAbilitiesOf(actor(role), { ...standing, state: 'reported' }).seeFinder;
    expect(
      (['volunteer', 'preparator', 'curator', 'registrar', 'permit-officer'] as const).map(sees),
    ).toEqual([false, false, false, true, true]);
  });
});

const beginning = { today: '2026-03-05', country: 'US', stateProvince: 'Ohio' };
const me = { id: '7b0d5d0e-58a5-4c4a-9d0e-0f5f6f6f6f6f' };

describe('the form of a find', () => {
  it.each([
    ['2026-03-05', '2026-03-05', '2026-03-05'],
    ['3–5 March 2026', '2026-03-03', '2026-03-05'],
    ['March 2026', '2026-03-01', '2026-03-31'],
  ])('reads "%s"', (words, earliestOn, latestOn) => {
    expect(readDate(words).interval).toEqual({ earliestOn, latestOn, verbatim: words });
  });

  it('says why it cannot read a date', () => {
    expect(readDate('03/04/2026')).toMatchObject({
      interval: null,
      problem: expect.stringContaining('could be'),
    });
    expect(readDate('2026-02-30').interval).toBeNull();
  });

  it('makes a report the server takes; with what is missing it says where', () => {
    const draft = { ...emptyDraft(beginning), verbatimTaxon: 'robin', locality: 'by the tower' };
    const report = reportFindRequest.parse(toReport(draft, me));
    expect(report).toMatchObject({
      finder: null,
      facts: { finderPersonId: me.id, finderRelation: 'under-direct-control' },
    });
    const bare = reportFindRequest.safeParse(toReport({ ...emptyDraft(beginning), date: '03/04/2026' }, me));
    expect(bare.error?.issues.map(({ path }) => path.join('.'))).toEqual(
      expect.arrayContaining(['found.earliestOn', 'place.locality', 'verbatimTaxon']),
    );
  });

  it('another finder’s data go along only when it was somebody else', () => {
    const named = {
      ...emptyDraft(beginning),
      verbatimTaxon: 'x',
      locality: 'y',
      finderName: 'Ada',
      finderPhone: '555',
    };
    expect(toReport(named, me).finder).toBeNull();
    expect(toReport({ ...named, finderIs: 'somebody' }, me)).toMatchObject({
      finder: { name: 'Ada', phone: '555', email: null },
      facts: { finderPersonId: null },
    });
  });

  it('the next bird keeps place and day, and has a key of its own', () => {
    const draft = {
      ...emptyDraft(beginning),
      verbatimTaxon: 'robin',
      county: 'Franklin',
      date: '2026-03-01',
    };
    const next = nextDraft(draft, beginning);
    expect(next).toMatchObject({ verbatimTaxon: '', county: 'Franklin', date: '2026-03-01' });
    expect(next.requestKey).not.toBe(draft.requestKey);
  });

  it('sends only what was changed', () => {
    const record = {
      taxonId: null,
      identified: false,
      taxon: 'robin',
      commonName: null,
      verbatimTaxon: 'robin',
      specimenType: 'whole-bird',
      quantity: 1,
      foundFrom: '2026-03-03',
      foundTo: '2026-03-05',
      receivedOn: '2026-03-05',
      placeId: null,
      country: 'US',
      stateProvince: 'Ohio',
      county: 'Franklin',
      locality: 'x',
      verbatimCoordinates: null,
      latitude: null,
      longitude: null,
      uncertaintyM: null,
      circumstances: '',
      cause: 'unknown',
      condition: 'unknown',
      bandNumber: null,
      diseaseSigns: false,
      suspectedIllegal: false,
      remarks: null,
      facts: findFacts.parse({}),
    } as unknown as SalvageRecord;
    const draft = draftOf(record);
    expect(changesBetween(draft, { ...draft })).toEqual({});
    expect(changesBetween(draft, { ...draft, cause: 'cat', othersDead: '2' })).toEqual({
      cause: 'cat',
      facts: { othersDead: 2 },
    });
    const moved = changesBetween(draft, { ...draft, county: 'Delaware' });
    expect(Object.keys(moved)).toEqual(['place']);
  });
});
