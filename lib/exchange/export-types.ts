import type { GeneralisationStep } from '@/lib/places/public-rules';

/** What an export needs to know of the holder; the same for every row. */
export interface ExportHolder {
  institutionCode: string;
  institutionId: string | null;
  ownerInstitutionCode: string | null;
  collectionCode: string;
  collectionId: string | null;
  licenseIri: string;
  rightsHolder: string;
}

export interface ExportName {
  scientificName: string;
  authorship: string | null;
  rank: string;
  order: string | null;
  family: string | null;
  vernacularName: string | null;
}

export interface ExportIdentification {
  id: string;
  name: ExportName;
  qualifier: string | null;
  identifiedBy: string[];
  identifiedById: string[];
  /** ISO 8601 date. */
  identifiedOn: string | null;
  remarks: string | null;
  typeStatus: string | null;
  accepted: boolean;
}

export interface ExportMeasurement {
  id: string;
  /** Groups left and right, or length and width. */
  parentId: string | null;
  type: string;
  verbatimType: string | null;
  value: string | number;
  unit: string | null;
  accuracy: string | null;
  method: string | null;
  determinedBy: string[];
  determinedOn: string | null;
  remarks: string | null;
}

export interface ExportMedia {
  id: string;
  accessUri: string;
  format: string;
  title: string | null;
  createdOn: string | null;
  creator: string | null;
  rights: string | null;
  /** Of the bytes at accessUri, in hexadecimal. */
  sha256: string | null;
  subjectPart: string | null;
  subjectOrientation: string | null;
}

export interface ExportPermit {
  /** One of the 19 values of the GGBN list, "Salvage" among them. */
  type: string;
  status: 'Permit available' | 'Permit not required' | 'Permit not available' | 'Unknown';
  statusQualifier: string | null;
  uri: string | null;
  text: string | null;
}

export interface ExportPreparation {
  type: string;
  process: string | null;
  materials: string | null;
  preparedBy: string[];
  /** ISO 8601 date; the standard requires it. */
  preparedOn: string;
}

export interface ExportPreservation {
  type: string;
  /** As written with its unit, "-80 °C". */
  temperature: string | null;
  beganOn: string | null;
}

export interface ExportLoan {
  identifier: string;
  sentOn: string;
  destination: string;
  conditions: string | null;
  blocked: boolean;
  blockedUntil: string | null;
  receivedFrom: string | null;
  /** returned, consumed or lost, with its day; null while it is out. */
  outcome: string | null;
  outcomeOn: string | null;
}

export interface ExportVial {
  code: string;
  tissues: string[];
  preservation: string;
  container: string;
  amount: number | null;
  amountLeft: number | null;
  amountUnit: string;
  /** Published class, 4 best. */
  qualityClass: number | null;
  thawCount: number;
  /** Instants, ISO 8601 with zone. */
  sampledAt: string | null;
  frozenAt: string | null;
}

export type Disposition = 'in collection' | 'missing' | 'on loan' | 'used up' | 'destroyed' | 'deaccessioned';

export interface ExportMaterial {
  /** Permanent identifier of the physical thing, never of a record. */
  id: string;
  category: 'deadOrganism' | 'partOfOrganism' | 'molecularBiologicalExtract';
  /** Own list: study skin, partial skeleton, spread wing, tissue. */
  type: string;
  /** The value for dwc:preparations; null for what is not a preparation, as a carcass that is used up. */
  preparation: string | null;
  catalogNumber: string | null;
  otherNumbers: string[];
  disposition: Disposition;
  derivedFromId: string | null;
  /** Not taken from its whole: the skull left in a skin. */
  partOfId: string | null;
  derivedOn: string | null;
  quantity: number | null;
  quantityType: string | null;
  verbatimLabel: string | null;
  sequences: string[];
  remarks: string | null;
  sample: {
    sampleType: string;
    volume: number | null;
    volumeUnit: string | null;
    weight: number | null;
    weightUnit: string | null;
    quality: 'low' | 'medium' | 'high' | null;
    qualityRemarks: string | null;
    qualityCheckedOn: string | null;
    designation: string | null;
  } | null;
  /** The vial as the house keeps it, for the data package. */
  vial: ExportVial | null;
  preservations: ExportPreservation[];
  preparations: ExportPreparation[];
  permits: ExportPermit[];
  loans: ExportLoan[];
  modifiedAt: string;
}

export interface ExportPlace {
  countryCode: string | null;
  country: string | null;
  stateProvince: string | null;
  county: string | null;
  municipality: string | null;
  locality: string | null;
  verbatimLocality: string | null;
  minimumElevationM: number | null;
  maximumElevationM: number | null;
  verbatimElevation: string | null;
  latitude: number | null;
  longitude: number | null;
  /** EPSG code or "not recorded". */
  datum: string;
  uncertaintyM: number | null;
  coordinatePrecision: number | null;
  verbatimCoordinates: string | null;
  verbatimCoordinateSystem: string | null;
  verbatimSrs: string | null;
  georeferencedBy: string[];
  georeferencedOn: string | null;
  georeferenceProtocol: string | null;
  georeferenceSources: string[];
  georeferenceRemarks: string | null;
  verificationStatus: string | null;
}

export interface ExportBird {
  organismId: string;
  occurrenceId: string;
  eventId: string;
  catalogNumber: string | null;
  otherNumbers: string[];
  recordNumber: string | null;
  basisOfRecord: 'PreservedSpecimen' | 'MaterialEntity';
  /** Names of the finder and collector that may be shown; private persons are left out by the caller. */
  recordedBy: string[];
  recordedById: string[];
  /** Set when names were left out, so that the export says so. */
  recordedByWithheld: boolean;
  sex: 'female' | 'male' | 'undetermined' | null;
  lifeStage: string | null;
  reproductiveCondition: string | null;
  causeOfDeath: string | null;
  establishmentMeans: string | null;
  degreeOfEstablishment: string | null;
  occurrenceRemarks: string | null;
  /** ISO 8601 date or interval, ends included. */
  eventDate: string | null;
  verbatimEventDate: string | null;
  samplingProtocol: string | null;
  eventRemarks: string | null;
  place: ExportPlace;
  /** null: share the place as it is. */
  generalise: GeneralisationStep | null;
  identifications: ExportIdentification[];
  measurements: ExportMeasurement[];
  media: ExportMedia[];
  materials: ExportMaterial[];
  modifiedAt: string;
}
