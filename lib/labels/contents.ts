import {
  type BenchValues,
  FIELDS,
  type FieldId,
  plainValues,
  readSnapshot,
  sayFieldValue,
} from '@/lib/bench/public';
import { dayOf } from '@/lib/platform/clock';
import { labelOf, preservationWords } from '@/lib/storage/public';
import { joinPresent } from './elements';
import type { LabelContent } from './kinds';
import type { FoundFind, FoundMaterial } from './repo';

/** What labels say of records: facts as they are stored, turned into the words that are printed. */
export type Shown = {
  institution: string;
  /** Exact places may be printed whatever the taxon. */
  exact: boolean;
  names: ReadonlyMap<string, string>;
};

const most = (length: number, text: string | null): string | null =>
  text === null || text === '' ? null : text.slice(0, length);

/** 'YYYY-MM-DD', or an ISO 8601 interval where the day is not known. */
function sayFound(find: { foundFrom: Date; foundTo: Date }): string {
  const [from, to] = [dayOf(find.foundFrom), dayOf(find.foundTo)];
  return from === to ? from : `${from}/${to}`;
}

const degrees = (value: number, [positive, negative]: readonly [string, string]) =>
  `${Math.abs(value).toFixed(5)}° ${value < 0 ? negative : positive}`;

function sayCoordinates(find: {
  latitude: number | null;
  longitude: number | null;
  uncertaintyM: number | null;
}): string | null {
  const { latitude, longitude, uncertaintyM } = find;
  if (latitude === null || longitude === null) return null;
  const within = uncertaintyM === null ? '' : ` ± ${Math.round(uncertaintyM)} m`;
  return `${degrees(latitude, ['N', 'S'])}, ${degrees(longitude, ['E', 'W'])}${within}`;
}

type Place = { country: string; stateProvince: string; county: string; locality: string };

/** The exact place where it may be printed, else no finer than the county. */
const sayPlace = (find: Place, isExact: boolean): string | null =>
  most(300, joinPresent([find.country, find.stateProvince, find.county, isExact && find.locality], ', '));

const isExactFor = (shown: Shown, taxon: { sensitive: boolean } | null): boolean =>
  shown.exact || taxon?.sensitive !== true;

const say = (values: BenchValues, field: FieldId): string | null =>
  sayFieldValue(field, values[field]) || null;

/** "left ovary 9 by 5 mm; largest follicle 1.2 mm": fields of a section with their names. */
function saySection(values: BenchValues, section: string, leaveOut: readonly FieldId[] = []): string | null {
  const fields = (Object.keys(FIELDS) as FieldId[]).filter(
    (field) => FIELDS[field].section === section && !leaveOut.includes(field),
  );
  return most(
    300,
    fields
      .flatMap((field) => {
        const value = say(values, field);
        return value === null ? [] : `${FIELDS[field].label.toLowerCase()} ${value}`;
      })
      .join(', '),
  );
}

/** Score with the scale it is scored by. */
function sayFat(values: BenchValues): string | null {
  const { fat } = values;
  if (fat === undefined) return null;
  const scale = FIELDS.fat.scales.find((known) => known.id === fat.scale)?.label;
  return scale === undefined ? `${fat.score}` : `${fat.score} (${scale})`;
}

function sayMoult(values: BenchValues): string | null {
  return most(
    300,
    joinPresent([say(values, 'moult'), values.primaryMoult && `primaries ${values.primaryMoult}`]),
  );
}

const isSex = (sex: string): sex is 'female' | 'male' => sex === 'female' || sex === 'male';
const sexOf = (sex: string): 'female' | 'male' | 'undetermined' => (isSex(sex) ? sex : 'undetermined');

/** A specimen tag from the bird's record. What the record lacks is null; nothing is made up. */
export function tagOf(find: FoundFind, shown: Shown): LabelContent<'specimen-tag'> | null {
  const { bird } = find;
  if (bird === null) return null;
  const values = plainValues(readSnapshot(bird.bench?.values ?? {}));
  const taxon = bird.taxon ?? find.taxon;
  const isExact = isExactFor(shown, taxon);
  const cause =
    values.causeOfDeathFound ?? (find.cause === 'unknown' ? null : find.cause.replaceAll('-', ' '));
  return {
    institution: shown.institution,
    number: bird.catalogue?.number ?? bird.number,
    suffix: null,
    preparationNumber: bird.bench?.prepNumber ?? null,
    scientificName: taxon?.scientificName ?? find.verbatimTaxon,
    commonName: taxon?.commonName ?? null,
    sex: sexOf(bird.sex),
    gonads: saySection(values, 'sexing', ['sex', 'plumageSex', 'molecularSex']),
    collector: shown.names.get(find.loggedById ?? '') ?? null,
    preparator: shown.names.get(bird.bench?.preparatorId ?? '') ?? null,
    date: sayFound(find),
    locality: sayPlace(find, isExact),
    coordinates: isExact ? sayCoordinates(find) : null,
    massG: values.massG ?? null,
    skull: most(
      300,
      joinPresent([
        values.skullOssificationPct === undefined ? null : `${values.skullOssificationPct} % ossified`,
        values.skullRemarks,
      ]),
    ),
    bursa: say(values, 'bursa'),
    fat: sayFat(values),
    moult: sayMoult(values),
    softParts: saySection(values, 'soft-parts'),
    stomach: most(300, say(values, 'stomachContents')),
    causeOfDeath: most(300, cause),
  };
}

/** The tag on a carcass's bag; a bird on hold says so in large letters. */
export function bagOf(find: FoundFind, shown: Shown): LabelContent<'carcass-bag'> {
  const taxon = find.bird?.taxon ?? find.taxon;
  return {
    number: find.number,
    taxon: taxon?.scientificName ?? find.verbatimTaxon,
    isTaxonScientific: taxon !== null,
    foundOn: sayFound(find),
    place: most(200, sayPlace(find, isExactFor(shown, taxon))),
    circumstances: most(120, find.circumstances),
    permit: most(80, find.permit?.number ?? null),
    hold: most(80, find.holds[0]?.reason ?? null),
  };
}

export const vialKeptIn = (vial: { preservation: string; ethanolPercent: number | null }): string =>
  vial.preservation === 'ethanol'
    ? `ethanol ${vial.ethanolPercent} %`
    : preservationWords[vial.preservation as keyof typeof preservationWords].replace(/^in /, '');

const unitWords: Record<string, string> = { ul: 'µl' };

export function vialSideOf(material: FoundMaterial): LabelContent<'vial-side'> | null {
  const { vial } = material;
  if (vial === null) return null;
  const unit = unitWords[vial.amountUnit] ?? vial.amountUnit;
  return {
    number: labelOf(material),
    scientificName: material.bird.taxon?.scientificName ?? material.bird.salvage.verbatimTaxon,
    tissues: vial.tissues.join(', ').replaceAll('-', ' '),
    preservation: vialKeptIn(vial),
    sampledOn: vial.sampledAt === null ? null : vial.sampledAt.toISOString().slice(0, 10),
    amount: vial.amountLeft === null ? null : `${vial.amountLeft} ${unit}`,
  };
}

export function vialCapOf(material: FoundMaterial): LabelContent<'vial-cap'> | null {
  const first = material.vial?.tissues[0]?.charAt(0).toUpperCase();
  if (material.vial === null) return null;
  return { number: labelOf(material), mark: joinPresent([material.suffix, first], ' ').slice(0, 8) };
}

type Bone = FoundMaterial['bird']['bones'][number];

/** "partial: 12 with the skin, 3 missing": what of the skeleton is not in this box. */
function sayBones(bones: readonly Bone[]): string {
  const counts = new Map<string, number>();
  for (const bone of bones) {
    const where = bone.state === 'missing' ? 'missing' : (bone.place ?? 'undecided');
    if (where !== 'skeleton') counts.set(where, (counts.get(where) ?? 0) + 1);
  }
  if (bones.length === 0) return 'skeleton; the bone book is empty';
  if (counts.size === 0) return 'whole skeleton';
  const words = (where: string) =>
    where === 'missing' || where === 'undecided' ? where : `with the ${where}`;
  return `partial: ${[...counts].map(([where, count]) => `${count} ${words(where)}`).join(', ')}`;
}

export function boxOf(material: FoundMaterial, shown: Shown): LabelContent<'skeleton-box'> {
  const { bird } = material;
  const values = plainValues(readSnapshot(bird.bench?.values ?? {}));
  const lines = material.boxCounts[0]?.lines;
  const counted = Array.isArray(lines) ? lines.reduce<number>((sum, line) => sum + countOf(line), 0) : null;
  return {
    institution: shown.institution,
    number: bird.catalogue?.number ?? bird.number,
    suffix: material.suffix,
    scientificName: bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon,
    family: bird.taxon?.familyName ?? null,
    sex: sexOf(bird.sex),
    age: values.age === undefined || values.age === 'undetermined' ? null : say(values, 'age'),
    place: most(200, sayPlace(bird.salvage, isExactFor(shown, bird.taxon))),
    date: sayFound(bird.salvage),
    contents: sayBones(bird.bones),
    boneCount: counted,
  };
}

const countOf = (line: unknown): number =>
  typeof line === 'object' && line !== null && 'count' in line ? Number(line.count) || 0 : 0;
