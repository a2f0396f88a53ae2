import type {
  ExportBird,
  ExportHolder,
  ExportMaterial,
  ExportMeasurement,
} from '@/lib/exchange/export-types';
import { joinList, mapIdentification, mapMeasurement, mapOccurrence } from '@/lib/exchange/map-bird';
import * as material from '@/lib/exchange/map-material';
import type { TermRow } from '@/lib/exchange/terms';

export type PackageRow = Record<string, string | number | boolean | null | undefined>;
export type EmitRows = (table: string, rows: readonly PackageRow[]) => void;

/** Terms by their local names; of a table only its own columns are written. */
function localNames(row: TermRow): PackageRow {
  const named: PackageRow = {};
  for (const [term, value] of Object.entries(row)) named[term.slice(term.indexOf(':') + 1)] = value;
  return named;
}

export const usagePolicyOf = (holder: ExportHolder): PackageRow => ({
  usagePolicyID: holder.licenseIri,
  rightsHolder: holder.rightsHolder,
  license: holder.licenseIri,
});

/** The rows of one bird in every table of the data package. */
export function emitPackageRows(bird: ExportBird, holder: ExportHolder, emit: EmitRows): void {
  const core = localNames(mapOccurrence(bird, holder));
  const ids = { occurrenceID: bird.occurrenceId, eventID: bird.eventId, organismID: bird.organismId };
  emit('event', [{ ...core, eventCategory: 'MaterialGathering' }]);
  emit('organism', [core]);
  emit('occurrence', [core]);
  emit('occurrence-identifier', listIdentifiers(bird));
  emit(
    'identification',
    bird.identifications.map((one) => ({ ...localNames(mapIdentification(one)), ...ids })),
  );
  emit(
    'occurrence-assertion',
    bird.measurements.map((one) => ({ ...mapAssertion(one), ...ids })),
  );
  emit(
    'material',
    bird.materials.map((one) => mapMaterialRow(one, bird, holder)),
  );
  for (const one of bird.materials) emitMaterial(one, emit);
  emitMedia(bird, holder, emit);
}

/** Numbers are kept as kind and number, "salvage S-77". */
function listIdentifiers(bird: ExportBird): PackageRow[] {
  const numbers = bird.otherNumbers.map((text): [string, string] => {
    const end = text.indexOf(' ');
    return [text.slice(0, end), text.slice(end + 1)];
  });
  if (bird.catalogNumber !== null) numbers.push(['catalogue', bird.catalogNumber]);
  if (bird.recordNumber !== null) numbers.push(['preparation', bird.recordNumber]);
  return numbers.map(([kind, identifier]) => ({
    occurrenceID: bird.occurrenceId,
    identifier,
    identifierType: `${kind} number`,
  }));
}

function mapAssertion(measurement: ExportMeasurement): PackageRow {
  const { value } = measurement;
  const row = localNames(mapMeasurement(measurement));
  return {
    assertionID: row.measurementID,
    parentMeasurementID: row.parentMeasurementID,
    verbatimAssertionType: row.verbatimMeasurementType,
    assertionType: row.measurementType,
    assertionMadeDate: row.measurementDeterminedDate,
    assertionValue: typeof value === 'number' ? null : value,
    assertionValueNumeric: typeof value === 'number' ? value : null,
    assertionUnit: row.measurementUnit,
    assertionError: row.measurementAccuracy,
    assertionBy: row.measurementDeterminedBy,
    assertionProtocols: row.measurementMethod,
    assertionRemarks: row.measurementRemarks,
  };
}

function mapMaterialRow(one: ExportMaterial, bird: ExportBird, holder: ExportHolder): PackageRow {
  return {
    ...localNames(material.mapMaterial(one, bird, holder)),
    eventID: bird.eventId,
    evidenceForOccurrenceID: bird.occurrenceId,
    derivedFromMaterialEntityID: one.derivedFromId,
    isPartOfMaterialEntityID: one.partOfId,
    ownerInstitutionCode: holder.ownerInstitutionCode,
    collectionID: holder.collectionId,
  };
}

function emitMaterial(one: ExportMaterial, emit: EmitRows): void {
  const about = (rows: readonly TermRow[]) =>
    rows.map((row) => ({ ...localNames(row), materialEntityID: one.id }));
  const { vial } = one;
  const kept = vial === null ? {} : { ...vial, tissues: joinList(vial.tissues) };
  emit(
    'tissue',
    about(material.mapSample(one)).map((row) => ({ ...row, ...kept })),
  );
  emit('preservation', about(material.mapPreservations(one)));
  emit('preparation', about(material.mapPreparations(one)));
  emit('permit', about(material.mapPermits(one)));
  emit(
    'loan',
    about(material.mapLoans(one)).map((row, index) => ({
      ...row,
      outcome: one.loans[index]?.outcome,
      outcomeOn: one.loans[index]?.outcomeOn,
    })),
  );
}

function emitMedia(bird: ExportBird, holder: ExportHolder, emit: EmitRows): void {
  emit(
    'media',
    bird.media.map((media) => ({
      mediaID: media.id,
      mediaType: 'StillImage',
      title: media.title,
      CreateDate: media.createdOn,
      accessURI: media.accessUri,
      format: media.format,
      hashFunction: media.sha256 === null ? null : 'SHA-256',
      hashValue: media.sha256,
    })),
  );
  emit(
    'occurrence-media',
    bird.media.map((media) => ({ mediaID: media.id, occurrenceID: bird.occurrenceId })),
  );
  emit(
    'media-usage-policy',
    bird.media.map((media) => ({ mediaID: media.id, usagePolicyID: holder.licenseIri })),
  );
}
