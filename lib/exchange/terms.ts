/** Namespaces of the vocabularies that exports use. */
const NAMESPACES = {
  dwc: 'http://rs.tdwg.org/dwc/terms/',
  dcterms: 'http://purl.org/dc/terms/',
  dc: 'http://purl.org/dc/elements/1.1/',
  ggbn: 'http://data.ggbn.org/schemas/ggbn/terms/',
  ac: 'http://rs.tdwg.org/ac/terms/',
  xmp: 'http://ns.adobe.com/xap/1.0/',
} as const;

export type TermName = `${keyof typeof NAMESPACES}:${string}`;

/** The full IRI of a prefixed name: `dwc:sex` to http://rs.tdwg.org/dwc/terms/sex. */
export function termIri(name: TermName): string {
  const [prefix = '', local = ''] = name.split(':');
  return `${NAMESPACES[prefix as keyof typeof NAMESPACES]}${local}`;
}

/** A table of an archive: its class and its columns in order. */
export interface TableShape {
  fileName: string;
  rowType: TermName;
  /** Column 0 of each file is the id (core) or the core's id (extension) and is not listed here. */
  columns: readonly TermName[];
}

/** One row of an archive by prefixed term; what is absent or null is written empty. */
export type TermRow = Partial<Record<TermName, string | number | boolean | null>>;

/** Darwin Core list of terms of 2026-05-26; one row a bird. */
export const OCCURRENCE: TableShape = {
  fileName: 'occurrence.txt',
  rowType: 'dwc:Occurrence',
  columns: [
    'dc:type',
    'dcterms:modified',
    'dcterms:license',
    'dcterms:rightsHolder',
    'dwc:institutionID',
    'dwc:institutionCode',
    'dwc:ownerInstitutionCode',
    'dwc:collectionID',
    'dwc:collectionCode',
    'dwc:basisOfRecord',
    'dwc:occurrenceID',
    'dwc:catalogNumber',
    'dwc:otherCatalogNumbers',
    'dwc:recordNumber',
    'dwc:recordedBy',
    'dwc:recordedByID',
    'dwc:individualCount',
    'dwc:organismID',
    'dwc:organismScope',
    'dwc:sex',
    'dwc:lifeStage',
    'dwc:reproductiveCondition',
    'dwc:vitality',
    'dwc:causeOfDeath',
    'dwc:establishmentMeans',
    'dwc:degreeOfEstablishment',
    'dwc:occurrenceStatus',
    'dwc:preparations',
    'dwc:disposition',
    'dwc:associatedSequences',
    'dwc:occurrenceRemarks',
    'dwc:eventID',
    'dwc:eventType',
    'dwc:eventDate',
    'dwc:year',
    'dwc:month',
    'dwc:day',
    'dwc:startDayOfYear',
    'dwc:endDayOfYear',
    'dwc:verbatimEventDate',
    'dwc:samplingProtocol',
    'dwc:eventRemarks',
    'dwc:countryCode',
    'dwc:country',
    'dwc:stateProvince',
    'dwc:county',
    'dwc:municipality',
    'dwc:locality',
    'dwc:verbatimLocality',
    'dwc:minimumElevationInMeters',
    'dwc:maximumElevationInMeters',
    'dwc:verbatimElevation',
    'dwc:decimalLatitude',
    'dwc:decimalLongitude',
    'dwc:geodeticDatum',
    'dwc:coordinateUncertaintyInMeters',
    'dwc:coordinatePrecision',
    'dwc:verbatimCoordinates',
    'dwc:verbatimCoordinateSystem',
    'dwc:verbatimSRS',
    'dwc:georeferencedBy',
    'dwc:georeferencedDate',
    'dwc:georeferenceProtocol',
    'dwc:georeferenceSources',
    'dwc:georeferenceRemarks',
    'dwc:georeferenceVerificationStatus',
    'dwc:informationWithheld',
    'dwc:dataGeneralizations',
    'dwc:identifiedBy',
    'dwc:identifiedByID',
    'dwc:dateIdentified',
    'dwc:identificationQualifier',
    'dwc:identificationRemarks',
    'dwc:typeStatus',
    'dwc:scientificName',
    'dwc:scientificNameAuthorship',
    'dwc:taxonRank',
    'dwc:kingdom',
    'dwc:class',
    'dwc:order',
    'dwc:family',
    'dwc:genus',
    'dwc:specificEpithet',
    'dwc:infraspecificEpithet',
    'dwc:vernacularName',
    'dwc:nomenclaturalCode',
  ],
};

export const IDENTIFICATION: TableShape = {
  fileName: 'identification.txt',
  rowType: 'dwc:Identification',
  columns: [
    'dwc:identificationID',
    'dwc:scientificName',
    'dwc:scientificNameAuthorship',
    'dwc:taxonRank',
    'dwc:vernacularName',
    'dwc:nomenclaturalCode',
    'dwc:identifiedBy',
    'dwc:identifiedByID',
    'dwc:dateIdentified',
    'dwc:identificationQualifier',
    'dwc:identificationRemarks',
    'dwc:typeStatus',
    'dwc:isAcceptedIdentification',
  ],
};

export const MEASUREMENT: TableShape = {
  fileName: 'measurementorfact.txt',
  rowType: 'dwc:MeasurementOrFact',
  columns: [
    'dwc:measurementID',
    'dwc:parentMeasurementID',
    'dwc:measurementType',
    'dwc:verbatimMeasurementType',
    'dwc:measurementValue',
    'dwc:measurementAccuracy',
    'dwc:measurementUnit',
    'dwc:measurementDeterminedBy',
    'dwc:measurementDeterminedDate',
    'dwc:measurementMethod',
    'dwc:measurementRemarks',
  ],
};

export const RELATIONSHIP: TableShape = {
  fileName: 'resourcerelationship.txt',
  rowType: 'dwc:ResourceRelationship',
  columns: [
    'dwc:resourceRelationshipID',
    'dwc:resourceID',
    'dwc:relationshipOfResource',
    'dwc:relatedResourceID',
    'dwc:relationshipAccordingTo',
    'dwc:relationshipEstablishedDate',
    'dwc:relationshipRemarks',
  ],
};

export const MULTIMEDIA: TableShape = {
  fileName: 'multimedia.txt',
  rowType: 'ac:Multimedia',
  columns: [
    'dcterms:identifier',
    'ac:accessURI',
    'dc:type',
    'dc:format',
    'dcterms:title',
    'xmp:CreateDate',
    'dc:creator',
    'dcterms:rights',
    'ac:hashFunction',
    'ac:hashValue',
    'ac:subjectPart',
    'ac:subjectOrientation',
  ],
};

const MATERIAL_COLUMNS: readonly TermName[] = [
  'dwc:materialEntityID',
  'dwc:materialEntityCategory',
  'dwc:materialEntityType',
  'dwc:materialEntityRemarks',
  'dwc:catalogNumber',
  'dwc:otherCatalogNumbers',
  'dwc:preparations',
  'dwc:disposition',
  'dwc:objectQuantity',
  'dwc:objectQuantityType',
  'dwc:verbatimLabel',
  'dwc:associatedSequences',
  'dwc:institutionCode',
  'dwc:collectionCode',
];

export const MATERIAL: TableShape = {
  fileName: 'materialentity.txt',
  rowType: 'dwc:MaterialEntity',
  columns: MATERIAL_COLUMNS,
};

/** Core of the material archive: a row a thing, the individual it came from only by its identifier. */
export const MATERIAL_CORE: TableShape = {
  fileName: 'material.txt',
  rowType: 'dwc:MaterialEntity',
  columns: [
    'dc:type',
    'dcterms:modified',
    'dcterms:license',
    'dcterms:rightsHolder',
    'dwc:basisOfRecord',
    'dwc:organismID',
    'dwc:materialSampleID',
    ...MATERIAL_COLUMNS,
    'dwc:scientificName',
    'dwc:vernacularName',
    'dwc:sex',
  ],
};

export const MATERIAL_SAMPLE: TableShape = {
  fileName: 'materialsample.txt',
  rowType: 'ggbn:MaterialSample',
  columns: [
    'ggbn:materialSampleType',
    'ggbn:volume',
    'ggbn:volumeUnit',
    'ggbn:weight',
    'ggbn:weightUnit',
    'ggbn:qualityCheckDate',
    'ggbn:quality',
    'ggbn:qualityRemarks',
    'ggbn:sampleDesignation',
  ],
};

export const PRESERVATION: TableShape = {
  fileName: 'preservation.txt',
  rowType: 'ggbn:Preservation',
  columns: [
    'ggbn:preservationType',
    'ggbn:preservationTemperature',
    'ggbn:preservationDateBegin',
    'ggbn:sequence',
  ],
};

export const PREPARATION: TableShape = {
  fileName: 'preparation.txt',
  rowType: 'ggbn:Preparation',
  columns: [
    'ggbn:preparationType',
    'ggbn:preparationProcess',
    'ggbn:preparationMaterials',
    'ggbn:preparedBy',
    'ggbn:preparationDate',
  ],
};

export const PERMIT: TableShape = {
  fileName: 'permit.txt',
  rowType: 'ggbn:Permit',
  columns: [
    'ggbn:permitType',
    'ggbn:permitStatus',
    'ggbn:permitStatusQualifier',
    'ggbn:permitURI',
    'ggbn:permitText',
  ],
};

/** Of a loan the registered list gives disposition a wrong IRI, so Darwin Core's own is written. */
export const LOAN: TableShape = {
  fileName: 'loan.txt',
  rowType: 'ggbn:Loan',
  columns: [
    'ggbn:loanIdentifier',
    'ggbn:loanDate',
    'ggbn:loanDestination',
    'ggbn:loanConditions',
    'ggbn:blocked',
    'ggbn:blockedUntil',
    'ggbn:receivedFrom',
    'dwc:disposition',
  ],
};

export const OCCURRENCE_EXTENSIONS = [
  IDENTIFICATION,
  MEASUREMENT,
  RELATIONSHIP,
  MULTIMEDIA,
  MATERIAL,
] as const;
export const MATERIAL_EXTENSIONS = [
  MATERIAL_SAMPLE,
  PRESERVATION,
  PREPARATION,
  PERMIT,
  LOAN,
  RELATIONSHIP,
] as const;
