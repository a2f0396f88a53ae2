import type { ReportLine } from '../schema';

type LineColumn = {
  /** Name in the CSV. */
  name: string;
  /** Head in the workbook. */
  head: string;
  width: number;
  value: (line: ReportLine) => string | number | null;
};

/** What is told of each bird, in tables. */
export const LINE_COLUMNS: readonly LineColumn[] = [
  { name: 'number', head: 'Number', width: 14, value: (line) => line.number },
  { name: 'taxon', head: 'Taxon', width: 28, value: (line) => line.taxon },
  { name: 'specimen_type', head: 'Specimen', width: 12, value: (line) => line.specimenType },
  { name: 'found_earliest', head: 'Found, earliest', width: 14, value: (line) => line.foundEarliestOn },
  { name: 'found_latest', head: 'Found, latest', width: 14, value: (line) => line.foundLatestOn },
  { name: 'country', head: 'Country', width: 10, value: (line) => line.country },
  { name: 'state_or_province', head: 'State or province', width: 18, value: (line) => line.subdivision },
  { name: 'county', head: 'County', width: 18, value: (line) => line.county },
  { name: 'cause', head: 'Cause', width: 16, value: (line) => line.cause },
  { name: 'salvager', head: 'Salvager', width: 22, value: (line) => line.salvager },
  { name: 'band', head: 'Band', width: 14, value: (line) => line.bandNumber },
  { name: 'origin', head: 'Came as', width: 14, value: (line) => line.origin },
  { name: 'origin_on', head: 'Came on', width: 12, value: (line) => line.originOn },
  { name: 'opening', head: 'Carried over', width: 12, value: (line) => line.opening },
  { name: 'late', head: 'Entered late', width: 12, value: (line) => line.late },
  { name: 'acquired', head: 'Acquired', width: 10, value: (line) => line.acquired },
  { name: 'corrections', head: 'Corrected', width: 10, value: (line) => line.corrections },
  { name: 'disposed', head: 'Disposed', width: 10, value: (line) => line.disposed },
  { name: 'on_hand', head: 'On hand', width: 10, value: (line) => line.onHand },
  { name: 'outcome', head: 'Became', width: 16, value: (line) => line.outcome },
  { name: 'outcome_on', head: 'Became on', width: 12, value: (line) => line.outcomeOn },
  {
    name: 'outcome_detail',
    head: 'To whom, how, what of it',
    width: 44,
    value: (line) => line.outcomeDetail,
  },
  {
    name: 'identified_anew',
    head: 'Identified anew',
    width: 36,
    value: (line) =>
      line.identificationChanges
        .map((change) => `${change.on}: ${change.fromTaxon} > ${change.toTaxon}`)
        .join('; '),
  },
  { name: 'special_standing', head: 'Standing', width: 16, value: (line) => line.special.join('; ') },
  {
    name: 'separate_authority',
    head: 'Separate authority',
    width: 28,
    value: (line) => line.separateAuthority,
  },
];
