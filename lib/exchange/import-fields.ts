/** How the text of a column is read. */
export type FieldKind =
  | 'text'
  | 'number-label'
  | 'taxon'
  | 'date'
  | 'sex'
  | 'style'
  | 'mass-g'
  | 'length-mm'
  | 'count'
  | 'score'
  | 'coordinates'
  | 'latitude'
  | 'longitude'
  | 'datum'
  | 'uncertainty-m'
  | 'elevation'
  | 'yes-no'
  | 'names';

export interface ImportField {
  id: string;
  label: string;
  kind: FieldKind;
  /** Heads of columns that mean this, in lower case without signs; Darwin Core's term first where there is one. */
  aliases: string[];
}

/** What a sheet of salvaged or prepared birds may hold. The order is the order shown to people. */
export const IMPORT_FIELDS: readonly ImportField[] = [
  {
    id: 'catalogNumber',
    label: 'Catalogue number',
    kind: 'number-label',
    aliases: [
      'catalognumber',
      'cat no',
      'cat number',
      'catalogue number',
      'catalog no',
      'cat',
      'museum number',
      'museum no',
    ],
  },
  {
    id: 'preparationNumber',
    label: 'Preparation number',
    kind: 'number-label',
    aliases: [
      'recordnumber',
      'prep number',
      'prep no',
      'preparator number',
      'preparator no',
      'preparation number',
      'field number',
      'field no',
    ],
  },
  {
    id: 'salvageNumber',
    label: 'Salvage number',
    kind: 'number-label',
    aliases: ['salvage number', 'salvage no', 'freezer number', 'freezer no', 'carcass number'],
  },
  {
    id: 'accessionNumber',
    label: 'Accession number',
    kind: 'number-label',
    aliases: ['accession number', 'accession no', 'accession', 'acc no', 'acc number'],
  },
  {
    id: 'otherNumbers',
    label: 'Other numbers',
    kind: 'text',
    aliases: ['othercatalognumbers', 'other numbers', 'other number', 'old number', 'alternate number'],
  },
  {
    id: 'scientificName',
    label: 'Scientific name',
    kind: 'taxon',
    aliases: ['scientificname', 'species', 'latin name', 'taxon', 'sci name', 'name', 'genus species'],
  },
  {
    id: 'vernacularName',
    label: 'English name',
    kind: 'taxon',
    aliases: ['vernacularname', 'common name', 'english name', 'bird', 'species common name'],
  },
  {
    id: 'identifiedBy',
    label: 'Identified by',
    kind: 'names',
    aliases: ['identifiedby', 'determiner', 'det by', 'id by', 'determined by'],
  },
  {
    id: 'identifiedOn',
    label: 'Identified on',
    kind: 'date',
    aliases: ['dateidentified', 'date identified', 'det date', 'date determined'],
  },
  { id: 'sex', label: 'Sex', kind: 'sex', aliases: ['sex', 'gender', 'm f'] },
  { id: 'age', label: 'Age', kind: 'text', aliases: ['lifestage', 'age', 'age class', 'life stage'] },
  {
    id: 'massG',
    label: 'Mass',
    kind: 'mass-g',
    aliases: ['mass', 'weight', 'wt', 'mass g', 'weight g', 'wt g', 'body mass'],
  },
  {
    id: 'wingMm',
    label: 'Wing',
    kind: 'length-mm',
    aliases: ['wing', 'wing chord', 'wing length', 'wing mm'],
  },
  { id: 'tailMm', label: 'Tail', kind: 'length-mm', aliases: ['tail', 'tail length', 'tail mm'] },
  { id: 'tarsusMm', label: 'Tarsus', kind: 'length-mm', aliases: ['tarsus', 'tarsus length', 'tarsus mm'] },
  {
    id: 'billMm',
    label: 'Bill',
    kind: 'length-mm',
    aliases: ['bill', 'culmen', 'exposed culmen', 'bill length', 'bill mm', 'beak'],
  },
  {
    id: 'totalLengthMm',
    label: 'Total length',
    kind: 'length-mm',
    aliases: ['total length', 'length', 'tl', 'total length mm'],
  },
  {
    id: 'gonads',
    label: 'Gonads',
    kind: 'text',
    aliases: ['reproductivecondition', 'gonads', 'gonad', 'testes', 'ovary', 'gonad size'],
  },
  { id: 'fat', label: 'Fat', kind: 'text', aliases: ['fat', 'fat score', 'fat level'] },
  { id: 'moult', label: 'Moult', kind: 'text', aliases: ['moult', 'molt'] },
  {
    id: 'skull',
    label: 'Skull',
    kind: 'text',
    aliases: ['skull', 'skull ossification', 'ossification', 'ossif'],
  },
  { id: 'bursa', label: 'Bursa', kind: 'text', aliases: ['bursa', 'bursa of fabricius', 'bursa size'] },
  {
    id: 'softPartColours',
    label: 'Soft-part colours',
    kind: 'text',
    aliases: ['soft parts', 'soft part colours', 'soft part colors', 'iris', 'colors', 'colours'],
  },
  { id: 'stomach', label: 'Stomach', kind: 'text', aliases: ['stomach', 'stomach contents', 'gut contents'] },
  {
    id: 'foundOn',
    label: 'Found on',
    kind: 'date',
    aliases: [
      'eventdate',
      'date',
      'date found',
      'date collected',
      'found on',
      'collection date',
      'date coll',
      'salvage date',
    ],
  },
  {
    id: 'finder',
    label: 'Found by',
    kind: 'names',
    aliases: ['recordedby', 'collector', 'found by', 'finder', 'coll', 'collected by', 'salvaged by'],
  },
  { id: 'country', label: 'Country', kind: 'text', aliases: ['country', 'countrycode', 'nation'] },
  {
    id: 'stateProvince',
    label: 'State',
    kind: 'text',
    aliases: ['stateprovince', 'state', 'province', 'state province'],
  },
  { id: 'county', label: 'County', kind: 'text', aliases: ['county', 'parish', 'co'] },
  {
    id: 'locality',
    label: 'Locality',
    kind: 'text',
    aliases: [
      'locality',
      'verbatimlocality',
      'location',
      'place',
      'where found',
      'specific locality',
      'address',
    ],
  },
  {
    id: 'coordinates',
    label: 'Coordinates',
    kind: 'coordinates',
    aliases: ['verbatimcoordinates', 'coordinates', 'lat long', 'lat lon', 'latlong', 'gps', 'utm', 'mgrs'],
  },
  {
    id: 'latitude',
    label: 'Latitude',
    kind: 'latitude',
    aliases: ['decimallatitude', 'verbatimlatitude', 'latitude', 'lat', 'dec lat'],
  },
  {
    id: 'longitude',
    label: 'Longitude',
    kind: 'longitude',
    aliases: ['decimallongitude', 'verbatimlongitude', 'longitude', 'long', 'lon', 'lng', 'dec long'],
  },
  { id: 'datum', label: 'Datum', kind: 'datum', aliases: ['geodeticdatum', 'verbatimsrs', 'datum'] },
  {
    id: 'uncertaintyM',
    label: 'Uncertainty of the coordinates',
    kind: 'uncertainty-m',
    aliases: [
      'coordinateuncertaintyinmeters',
      'uncertainty',
      'error',
      'uncertainty m',
      'max error',
      'accuracy m',
    ],
  },
  {
    id: 'elevation',
    label: 'Elevation',
    kind: 'elevation',
    aliases: ['verbatimelevation', 'minimumelevationinmeters', 'elevation', 'elev', 'altitude'],
  },
  {
    id: 'causeOfDeath',
    label: 'Cause of death',
    kind: 'text',
    aliases: ['causeofdeath', 'cause of death', 'cod', 'cause'],
  },
  {
    id: 'circumstances',
    label: 'Circumstances',
    kind: 'text',
    aliases: ['eventremarks', 'circumstances', 'how found', 'how obtained'],
  },
  {
    id: 'bandNumber',
    label: 'Band or ring',
    kind: 'text',
    aliases: ['band', 'band number', 'ring', 'ring number', 'band no'],
  },
  {
    id: 'preparator',
    label: 'Prepared by',
    kind: 'names',
    aliases: ['preparedby', 'preparator', 'prepared by', 'prep by', 'prepper'],
  },
  {
    id: 'preparedOn',
    label: 'Prepared on',
    kind: 'date',
    aliases: ['preparationdate', 'date prepared', 'prep date', 'prepared on', 'date prepped'],
  },
  {
    id: 'preparationStyle',
    label: 'Preparation',
    kind: 'style',
    aliases: [
      'preparations',
      'preparation',
      'prep type',
      'preptype',
      'prep',
      'specimen type',
      'nature of specimen',
    ],
  },
  {
    id: 'tissues',
    label: 'Tissues',
    kind: 'text',
    aliases: ['tissues', 'tissue', 'tissue types', 'tissue sample'],
  },
  {
    id: 'storagePlace',
    label: 'Storage place',
    kind: 'text',
    aliases: ['storage', 'storage location', 'freezer', 'drawer', 'cabinet', 'case', 'box'],
  },
  {
    id: 'permitNumber',
    label: 'Permit number',
    kind: 'text',
    aliases: ['permit', 'permit number', 'permit no'],
  },
  {
    id: 'remarks',
    label: 'Remarks',
    kind: 'text',
    aliases: ['occurrenceremarks', 'remarks', 'notes', 'comments', 'comment'],
  },
];

export function findImportField(id: string): ImportField | undefined {
  return IMPORT_FIELDS.find((field) => field.id === id);
}
