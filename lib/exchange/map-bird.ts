import type {
  ExportBird,
  ExportHolder,
  ExportIdentification,
  ExportMaterial,
  ExportMeasurement,
  ExportMedia,
} from '@/lib/exchange/export-types';
import type { TermRow } from '@/lib/exchange/terms';
import {
  generalisePlace,
  listEventParts,
  PLACE_TERMS_WITHHELD,
  parseIsoDate,
} from '@/lib/places/public-rules';
import { parseScientificName } from '@/lib/taxa/public-rules';

/** Several values in one field: Darwin Core recommends a bar between spaces; null when there is none. */
export function joinList(values: readonly (string | null)[]): string | null {
  const kept = values.filter((value): value is string => value !== null && value !== '');
  return kept.length > 0 ? [...new Set(kept)].join(' | ') : null;
}

function mapName(identification: ExportIdentification | undefined): TermRow {
  if (!identification) return {};
  const { name } = identification;
  const parsed = parseScientificName(name.scientificName);
  return {
    'dwc:scientificName': name.authorship ? `${name.scientificName} ${name.authorship}` : name.scientificName,
    'dwc:scientificNameAuthorship': name.authorship,
    'dwc:taxonRank': name.rank,
    'dwc:kingdom': 'Animalia',
    'dwc:class': 'Aves',
    'dwc:order': name.order,
    'dwc:family': name.family,
    'dwc:genus': parsed.genus,
    'dwc:specificEpithet': parsed.specificEpithet,
    'dwc:infraspecificEpithet': parsed.infraspecificEpithet,
    'dwc:vernacularName': name.vernacularName,
    'dwc:nomenclaturalCode': 'ICZN',
    'dwc:identifiedBy': joinList(identification.identifiedBy),
    'dwc:identifiedByID': joinList(identification.identifiedById),
    'dwc:dateIdentified': identification.identifiedOn,
    'dwc:identificationQualifier': identification.qualifier,
    'dwc:identificationRemarks': identification.remarks,
    'dwc:typeStatus': identification.typeStatus,
  };
}

function mapDate(bird: ExportBird): TermRow {
  const parsed = parseIsoDate(bird.eventDate ?? '');
  const parts = parsed.ok ? listEventParts(parsed.value) : null;
  return {
    'dwc:eventDate': bird.eventDate,
    'dwc:year': parts?.year ?? null,
    'dwc:month': parts?.month ?? null,
    'dwc:day': parts?.day ?? null,
    'dwc:startDayOfYear': parts?.startDayOfYear ?? null,
    'dwc:endDayOfYear': parts?.endDayOfYear ?? null,
    'dwc:verbatimEventDate': bird.verbatimEventDate,
  };
}

function mapPlace({ place }: ExportBird): TermRow {
  const located = place.latitude !== null && place.longitude !== null;
  return {
    'dwc:countryCode': place.countryCode,
    'dwc:country': place.country,
    'dwc:stateProvince': place.stateProvince,
    'dwc:county': place.county,
    'dwc:municipality': place.municipality,
    'dwc:locality': place.locality,
    'dwc:verbatimLocality': place.verbatimLocality,
    'dwc:minimumElevationInMeters': place.minimumElevationM,
    'dwc:maximumElevationInMeters': place.maximumElevationM,
    'dwc:verbatimElevation': place.verbatimElevation,
    'dwc:decimalLatitude': located ? place.latitude : null,
    'dwc:decimalLongitude': located ? place.longitude : null,
    'dwc:geodeticDatum': located ? place.datum : null,
    'dwc:coordinateUncertaintyInMeters': located ? place.uncertaintyM : null,
    'dwc:coordinatePrecision': located ? place.coordinatePrecision : null,
    'dwc:verbatimCoordinates': place.verbatimCoordinates,
    'dwc:verbatimCoordinateSystem': place.verbatimCoordinateSystem,
    'dwc:verbatimSRS': place.verbatimSrs,
    'dwc:georeferencedBy': joinList(place.georeferencedBy),
    'dwc:georeferencedDate': place.georeferencedOn,
    'dwc:georeferenceProtocol': place.georeferenceProtocol,
    'dwc:georeferenceSources': joinList(place.georeferenceSources),
    'dwc:georeferenceRemarks': place.georeferenceRemarks,
    'dwc:georeferenceVerificationStatus': located
      ? (place.verificationStatus ?? 'requires verification')
      : null,
  };
}

/** Coarsens the place of a sensitive bird and empties every term that would give it away. */
function protectPlace(row: TermRow, bird: ExportBird): TermRow {
  const withheld = bird.recordedByWithheld ? ['Names of private persons withheld.'] : [];
  if (bird.generalise === null) return { ...row, 'dwc:informationWithheld': joinList(withheld) };
  const { latitude, longitude, uncertaintyM } = bird.place;
  const located = latitude !== null && longitude !== null;
  const shared = generalisePlace(
    { latitude: latitude ?? 0, longitude: longitude ?? 0, uncertaintyM },
    located ? bird.generalise : 'none',
  );
  const emptied = Object.fromEntries(PLACE_TERMS_WITHHELD.map((term) => [`dwc:${term}`, null])) as TermRow;
  return {
    ...row,
    ...emptied,
    'dwc:decimalLatitude': shared.latitude,
    'dwc:decimalLongitude': shared.longitude,
    'dwc:geodeticDatum': shared.latitude === null ? null : bird.place.datum,
    'dwc:coordinateUncertaintyInMeters': shared.uncertaintyM,
    'dwc:coordinatePrecision': shared.coordinatePrecision,
    'dwc:georeferenceVerificationStatus':
      shared.latitude === null ? null : (row['dwc:georeferenceVerificationStatus'] ?? null),
    'dwc:informationWithheld': joinList([shared.informationWithheld, ...withheld]),
    'dwc:dataGeneralizations': shared.dataGeneralizations,
  };
}

/** The whole bird is on the shelf if any part of it is; else its parts' common fate, if they share one. */
function sumDispositions(materials: ExportMaterial[]): string | null {
  const kept = materials
    .filter((material) => material.preparation !== null)
    .map((material) => material.disposition);
  if (kept.includes('in collection')) return 'in collection';
  return new Set(kept).size === 1 ? (kept[0] ?? null) : null;
}

/** The core row of a bird: one individual, all of its preparations in one list. */
export function mapOccurrence(bird: ExportBird, holder: ExportHolder): TermRow {
  const accepted = bird.identifications.find((identification) => identification.accepted);
  const row: TermRow = {
    'dc:type': 'PhysicalObject',
    'dcterms:modified': bird.modifiedAt,
    'dcterms:license': holder.licenseIri,
    'dcterms:rightsHolder': holder.rightsHolder,
    'dwc:institutionID': holder.institutionId,
    'dwc:institutionCode': holder.institutionCode,
    'dwc:ownerInstitutionCode': holder.ownerInstitutionCode,
    'dwc:collectionID': holder.collectionId,
    'dwc:collectionCode': holder.collectionCode,
    'dwc:basisOfRecord': bird.basisOfRecord,
    'dwc:occurrenceID': bird.occurrenceId,
    'dwc:catalogNumber': bird.catalogNumber,
    'dwc:otherCatalogNumbers': joinList(bird.otherNumbers),
    'dwc:recordNumber': bird.recordNumber,
    'dwc:recordedBy': joinList(bird.recordedBy),
    'dwc:recordedByID': joinList(bird.recordedById),
    'dwc:individualCount': 1,
    'dwc:organismID': bird.organismId,
    'dwc:organismScope': 'multicellular organism',
    'dwc:sex': bird.sex,
    'dwc:lifeStage': bird.lifeStage,
    'dwc:reproductiveCondition': bird.reproductiveCondition,
    'dwc:vitality': 'dead',
    'dwc:causeOfDeath': bird.causeOfDeath,
    'dwc:establishmentMeans': bird.establishmentMeans,
    'dwc:degreeOfEstablishment': bird.degreeOfEstablishment,
    'dwc:occurrenceStatus': 'detected',
    'dwc:preparations': joinList(bird.materials.map((material) => material.preparation)),
    'dwc:disposition': sumDispositions(bird.materials),
    'dwc:associatedSequences': joinList(bird.materials.flatMap((material) => material.sequences)),
    'dwc:occurrenceRemarks': bird.occurrenceRemarks,
    'dwc:eventID': bird.eventId,
    'dwc:eventType': 'salvage',
    'dwc:samplingProtocol': bird.samplingProtocol,
    'dwc:eventRemarks': bird.eventRemarks,
    ...mapDate(bird),
    ...mapPlace(bird),
    ...mapName(accepted),
  };
  return protectPlace(row, bird);
}

export function mapIdentification(identification: ExportIdentification): TermRow {
  return {
    ...mapName(identification),
    'dwc:identificationID': identification.id,
    'dwc:isAcceptedIdentification': identification.accepted,
  };
}

export function mapMeasurement(measurement: ExportMeasurement): TermRow {
  return {
    'dwc:measurementID': measurement.id,
    'dwc:parentMeasurementID': measurement.parentId,
    'dwc:measurementType': measurement.type,
    'dwc:verbatimMeasurementType': measurement.verbatimType,
    'dwc:measurementValue': measurement.value,
    'dwc:measurementAccuracy': measurement.accuracy,
    'dwc:measurementUnit': measurement.unit,
    'dwc:measurementDeterminedBy': joinList(measurement.determinedBy),
    'dwc:measurementDeterminedDate': measurement.determinedOn,
    'dwc:measurementMethod': measurement.method,
    'dwc:measurementRemarks': measurement.remarks,
  };
}

export function mapMedia(media: ExportMedia): TermRow {
  return {
    'dcterms:identifier': media.id,
    'ac:accessURI': media.accessUri,
    'dc:type': media.format.startsWith('image/') ? 'StillImage' : null,
    'dc:format': media.format,
    'dcterms:title': media.title,
    'xmp:CreateDate': media.createdOn,
    'dc:creator': media.creator,
    'dcterms:rights': media.rights,
    'ac:hashFunction': media.sha256 === null ? null : 'SHA-256',
    'ac:hashValue': media.sha256,
    'ac:subjectPart': media.subjectPart,
    'ac:subjectOrientation': media.subjectOrientation,
  };
}
