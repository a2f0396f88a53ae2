import { FIELDS, type FieldId, isFieldId, sayFieldValue } from '@/lib/bench/public';
import { buildMedia, type MediaSource } from '@/lib/exchange/build-media';
import type {
  Disposition,
  ExportBird,
  ExportIdentification,
  ExportMaterial,
  ExportMeasurement,
  ExportName,
  ExportPlace,
} from '@/lib/exchange/export-types';
import type { BirdBatch, FullBird, FullMaterial } from '@/lib/exchange/repo/birds';
import { SHARED_STEP } from '@/lib/places/public-rules';

/** How much of a place leaves the house: `everywhere` coarsens all places, `sensitive` those of marked taxa. */
export type PlaceRule = 'exact' | 'sensitive' | 'everywhere';

const urn = (id: string): string => `urn:uuid:${id}`;
const dayOf = (date: Date): string => date.toISOString().slice(0, 10);
const regions = new Intl.DisplayNames('en', { type: 'region' });

const TYPES: Record<string, string> = {
  carcass: 'carcass',
  skin: 'study skin',
  skeleton: 'partial skeleton',
  vial: 'tissue',
  wing: 'spread wing',
  'flat-skin': 'flat skin',
  fluid: 'fluid-preserved specimen',
  stomach: 'stomach contents',
  other: 'part',
};

const DISPOSITIONS: Record<string, Disposition> = {
  'on-shelf': 'in collection',
  'on-loan': 'on loan',
  missing: 'missing',
  deaccessioned: 'deaccessioned',
  'used-up': 'used up',
};

/** Carcasses of these states are not there any more, or are being used up. */
const GONE = ['prepared', 'discarded', 'transferred', 'released'];

/** A bird as the standards want it. Finders are never named. Rows are read by the caller. */
export function buildExportBird(
  bird: FullBird,
  batch: BirdBatch,
  rule: PlaceRule,
  source: MediaSource,
): ExportBird {
  const { salvage, bench, catalogue } = bird;
  const coarse = rule === 'everywhere' || (rule === 'sensitive' && bird.taxon?.sensitive === true);
  const materials = bird.materials.map((material) => buildMaterial(material, bird, batch));
  const values = readValues(bench?.values);
  return {
    organismId: `${urn(bird.id)}#organism`,
    occurrenceId: urn(bird.id),
    eventId: urn(salvage.id),
    catalogNumber: catalogue?.number ?? null,
    otherNumbers: [
      `salvage ${bird.number}`,
      ...(salvage.accession === null ? [] : [`accession ${salvage.accession.number}`]),
    ],
    recordNumber: bench?.prepNumber ?? null,
    basisOfRecord: materials.some((one) => one.preparation !== null && one.type !== 'tissue')
      ? 'PreservedSpecimen'
      : 'MaterialEntity',
    recordedBy: [],
    recordedById: [],
    recordedByWithheld: true,
    sex: bird.sex as ExportBird['sex'],
    lifeStage: textOf(values.age?.value),
    reproductiveCondition: describeGonads(values),
    causeOfDeath:
      (coarse ? null : textOf(values.causeOfDeathFound?.value)) ??
      (salvage.cause === 'unknown' ? null : salvage.cause.replaceAll('-', ' ')),
    establishmentMeans: null,
    degreeOfEstablishment: null,
    occurrenceRemarks: coarse ? null : textOf(values.remarks?.value),
    eventDate: describeDays(dayOf(salvage.foundFrom), dayOf(salvage.foundTo)),
    verbatimEventDate: salvage.verbatimDate,
    samplingProtocol: 'salvage',
    eventRemarks: null,
    place: buildPlace(salvage),
    generalise: coarse ? SHARED_STEP : null,
    identifications: buildIdentifications(bird, batch),
    measurements: buildMeasurements(bird, batch, values, coarse),
    media: (batch.pictures.get(bird.id) ?? []).map((picture) => buildMedia(picture, coarse, source)),
    materials,
    modifiedAt: (bird.changedAt ?? bird.createdAt).toISOString(),
  };
}

const describeDays = (from: string, to: string): string => (from === to ? from : `${from}/${to}`);

function buildPlace(salvage: FullBird['salvage']): ExportPlace {
  const isCode = /^[A-Z]{2}$/.test(salvage.country);
  return {
    countryCode: isCode ? salvage.country : null,
    country: isCode ? (regions.of(salvage.country) ?? null) : salvage.country || null,
    stateProvince: salvage.stateProvince || null,
    county: salvage.county || null,
    municipality: null,
    locality: salvage.locality || null,
    verbatimLocality: null,
    minimumElevationM: null,
    maximumElevationM: null,
    verbatimElevation: null,
    latitude: salvage.latitude,
    longitude: salvage.longitude,
    datum: salvage.latitude === null ? 'not recorded' : 'EPSG:4326',
    uncertaintyM: salvage.uncertaintyM === null ? null : Math.max(1, Math.ceil(salvage.uncertaintyM)),
    coordinatePrecision: null,
    verbatimCoordinates: salvage.verbatimCoordinates,
    verbatimCoordinateSystem: null,
    verbatimSrs: null,
    georeferencedBy: [],
    georeferencedOn: null,
    georeferenceProtocol: null,
    georeferenceSources: [],
    georeferenceRemarks: null,
    verificationStatus: null,
  };
}

const nameOf = (taxon: NonNullable<FullBird['taxon']>): ExportName => ({
  scientificName: taxon.scientificName,
  authorship: taxon.authorship,
  rank: taxon.rank,
  order: taxon.orderName,
  family: taxon.familyName,
  vernacularName: taxon.commonName,
});

const unlisted = (verbatim: string): ExportName => ({
  scientificName: verbatim,
  authorship: null,
  rank: 'unranked',
  order: null,
  family: null,
  vernacularName: null,
});

/** The history of names; where nobody determined the bird yet, the name it is kept under. */
function buildIdentifications(bird: FullBird, { taxa }: BirdBatch): ExportIdentification[] {
  const none = { identifiedById: [], typeStatus: null };
  if (bird.determinations.length === 0) {
    return [
      {
        ...none,
        id: `${urn(bird.id)}#name`,
        name: bird.taxon === null ? unlisted(bird.salvage.verbatimTaxon) : nameOf(bird.taxon),
        qualifier: null,
        identifiedBy: [],
        identifiedOn: null,
        remarks: null,
        accepted: true,
      },
    ];
  }
  return bird.determinations.map((one) => {
    const taxon = one.taxonId === null ? undefined : taxa.get(one.taxonId);
    return {
      ...none,
      id: urn(one.id),
      name: taxon === undefined ? unlisted(one.verbatim) : nameOf(taxon),
      qualifier: one.qualifier,
      identifiedBy: [one.determinedBy],
      identifiedOn: dayOf(one.determinedOn),
      remarks: one.remarks,
      accepted: one.current,
    };
  });
}

type Held = { value?: unknown; method?: string | null; at?: string; by?: string | null };

function readValues(values: unknown): Record<string, Held | undefined> {
  return typeof values === 'object' && values !== null ? (values as Record<string, Held>) : {};
}

const textOf = (value: unknown): string | null => (typeof value === 'string' && value !== '' ? value : null);

type Size = { lengthMm?: number; widthMm?: number };
const sayMm = ({ lengthMm, widthMm }: Size): string =>
  widthMm === undefined ? `${lengthMm} mm` : `${lengthMm} × ${widthMm} mm`;

function describeGonads(values: Record<string, Held | undefined>): string | null {
  const parts = ['leftTestis', 'rightTestis', 'testis', 'leftOvary', 'rightOvary', 'ovary'].flatMap(
    (field) => {
      const value = values[field]?.value;
      if (!isFieldId(field) || typeof value !== 'object' || value === null) return [];
      return [`${FIELDS[field].label.toLowerCase()} ${sayMm(value as Size)}`];
    },
  );
  return parts.length === 0 ? null : parts.join('; ');
}

const FREE_WORDS: readonly string[] = ['text', 'clause', 'items'];
const isFreeText = (field: FieldId): boolean => FREE_WORDS.includes(FIELDS[field].form);

/**
 * All that the bench record holds: numbers and scores as such, a size as two measurements that share their parent, the
 * rest in words. Free words may say where a bird was found, so they leave with its exact place only.
 */
function buildMeasurements(
  bird: FullBird,
  { people }: BirdBatch,
  values: Record<string, Held | undefined>,
  coarse: boolean,
): ExportMeasurement[] {
  return Object.entries(values).flatMap(([field, held]): ExportMeasurement[] => {
    if (!isFieldId(field) || held === undefined) return [];
    const { label, unit, kind, methods } = FIELDS[field];
    const { value, method = null, at, by } = held;
    const make = (
      part: string,
      type: string,
      said: number | string,
      of: string | null,
    ): ExportMeasurement => ({
      id: `${urn(bird.id)}#${field}${part}`,
      parentId: of,
      type,
      verbatimType: null,
      value: said,
      unit,
      accuracy: null,
      method: methods.find((known) => known.id === method)?.label ?? method,
      determinedBy: [people.get(by ?? '') ?? ''].filter((name) => name !== ''),
      determinedOn: at?.slice(0, 10) ?? null,
      remarks: null,
    });
    if (kind === 'number' && typeof value === 'number') return [make('', label.toLowerCase(), value, null)];
    if (kind === 'size' && typeof value === 'object' && value !== null) {
      const { lengthMm, widthMm } = value as Size;
      const parent = `${urn(bird.id)}#${field}`;
      return [
        ...(lengthMm === undefined
          ? []
          : [make('-length', `${label.toLowerCase()} length`, lengthMm, parent)]),
        ...(widthMm === undefined ? [] : [make('-width', `${label.toLowerCase()} width`, widthMm, parent)]),
      ];
    }
    if (kind === 'score' && typeof value === 'object' && value !== null) {
      const { score, scale } = value as { score?: number; scale?: string };
      return score === undefined
        ? []
        : [{ ...make('', label.toLowerCase(), score, null), method: scale ?? null }];
    }
    if (field === 'remarks' || (coarse && isFreeText(field))) return [];
    const words = sayFieldValue(field, value, method);
    return words === '' ? [] : [make('', label.toLowerCase(), words, null)];
  });
}

function buildMaterial(material: FullMaterial, bird: FullBird, { people }: BirdBatch): ExportMaterial {
  const { bench, catalogue, salvage } = bird;
  const isCarcass = material.kind === 'carcass';
  const type =
    material.kind === 'skeleton' && bench?.styleId === 'whole-skeleton'
      ? 'whole skeleton'
      : (TYPES[material.kind] ?? 'part');
  const preparator = people.get(bench?.preparatorId ?? '');
  const preparedOn = bench === null ? null : dayOf(bench.finishedAt ?? bench.startedAt);
  const kept = isCarcass && !GONE.includes(bird.state);
  return {
    id: urn(material.id),
    category: isCarcass ? 'deadOrganism' : 'partOfOrganism',
    type,
    preparation: isCarcass ? (kept ? 'carcass (unprepared)' : null) : type,
    catalogNumber: catalogue === null ? null : `${catalogue.number}-${material.suffix}`,
    otherNumbers: [`${bird.number}-${material.suffix}`],
    disposition: DISPOSITIONS[material.custody] ?? 'in collection',
    derivedFromId: material.parentId === null ? null : urn(material.parentId),
    partOfId: null,
    derivedOn: material.parentId === null ? null : preparedOn,
    quantity: null,
    quantityType: null,
    verbatimLabel: null,
    sequences: [],
    remarks: material.description,
    sample: buildSample(material, bird),
    vial: buildVial(material),
    preservations: buildPreservations(material),
    preparations:
      isCarcass || preparedOn === null
        ? []
        : [
            {
              type,
              process: null,
              materials: null,
              preparedBy: preparator === undefined ? [] : [preparator],
              preparedOn: material.vial?.sampledAt ? dayOf(material.vial.sampledAt) : preparedOn,
            },
          ],
    permits: [
      salvage.permit === null
        ? { type: 'Salvage', status: 'Unknown', statusQualifier: null, uri: null, text: null }
        : {
            type: salvage.permit.kind === 'salvage' ? 'Salvage' : 'Collecting Permit',
            status: 'Permit available',
            statusQualifier: null,
            uri: null,
            text: `${salvage.permit.authority} ${salvage.permit.number}`,
          },
    ],
    loans: material.loanLines.flatMap(({ loan, sentAt, outcome, outcomeAt }) =>
      sentAt === null
        ? []
        : [
            {
              identifier: loan.number,
              sentOn: dayOf(sentAt),
              destination: loan.borrower.institution,
              conditions: loan.conditions,
              blocked: outcome === null,
              blockedUntil: outcome === null && loan.dueOn !== null ? dayOf(loan.dueOn) : null,
              receivedFrom: null,
              outcome,
              outcomeOn: outcomeAt === null ? null : dayOf(outcomeAt),
            },
          ],
    ),
    modifiedAt: material.createdAt.toISOString(),
  };
}

/** GGBN knows low, medium, high; classes 1, 2, and 3 with 4 (our mapping). */
const qualityOf = (stars: number | null): 'low' | 'medium' | 'high' | null =>
  stars === null ? null : stars <= 1 ? 'low' : stars === 2 ? 'medium' : 'high';

function buildSample({ vial, suffix }: FullMaterial, bird: FullBird): ExportMaterial['sample'] {
  if (vial === null) return null;
  const isWeight = vial.amountUnit === 'mg' || vial.amountUnit === 'g';
  const isVolume = vial.amountUnit === 'ul' || vial.amountUnit === 'ml';
  return {
    sampleType: 'tissue',
    volume: isVolume ? vial.amountLeft : null,
    volumeUnit: isVolume ? vial.amountUnit.replace('ul', 'µl') : null,
    weight: isWeight ? vial.amountLeft : null,
    weightUnit: isWeight ? vial.amountUnit : null,
    quality: qualityOf(vial.qualityClass),
    qualityRemarks: vial.qualityReason,
    qualityCheckedOn: null,
    designation: `${bird.catalogue?.number ?? bird.number}-${suffix}`,
  };
}

function buildVial({ vial }: FullMaterial): ExportMaterial['vial'] {
  if (vial === null) return null;
  const { qualityReason: _, sampledAt, frozenAt, ...kept } = vial;
  return {
    ...kept,
    sampledAt: sampledAt?.toISOString() ?? null,
    frozenAt: frozenAt?.toISOString() ?? null,
  };
}

function buildPreservations({ vial, placement }: FullMaterial): ExportMaterial['preservations'] {
  if (vial === null) return [];
  const degrees = placement?.unit.targetTempC ?? null;
  return [
    {
      type: vial.preservation === 'ethanol' ? 'alcohol' : vial.preservation.replaceAll('-', ' '),
      temperature: degrees === null ? null : `${degrees} °C`,
      beganOn: vial.frozenAt === null ? null : dayOf(vial.frozenAt),
    },
  ];
}
