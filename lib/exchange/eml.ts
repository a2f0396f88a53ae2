import { create } from 'xmlbuilder2';

/** The metadata document of an archive, in the words of EML 2.2.0. */
export interface ExportMetadata {
  /** Permanent identifier of the data set; the version is added to it. */
  datasetId: string;
  version: number;
  title: string;
  /** Plain paragraphs. */
  abstract: string[];
  organizationName: string;
  contactEmail: string | null;
  /** Day of the export, `YYYY-MM-DD`. */
  publishedOn: string;
  licenseIri: string;
  licenseName: string;
  keywords: string[];
  citation: string | null;
  /** First and last day of finds, and the rectangle they lie in; null when the set is empty. */
  coverage: {
    startOn: string;
    endOn: string;
    west: number;
    east: number;
    north: number;
    south: number;
    description: string;
  } | null;
}

/** EML text; the same metadata gives the same bytes. */
export function writeEml(metadata: ExportMetadata): string {
  const party = {
    organizationName: metadata.organizationName,
    ...(metadata.contactEmail ? { electronicMailAddress: metadata.contactEmail } : {}),
  };
  const dataset = {
    alternateIdentifier: metadata.datasetId,
    title: { '@xml:lang': 'eng', '#': metadata.title },
    creator: party,
    metadataProvider: party,
    pubDate: metadata.publishedOn,
    language: 'eng',
    abstract: { para: metadata.abstract },
    ...(metadata.keywords.length > 0
      ? { keywordSet: { keyword: metadata.keywords, keywordThesaurus: 'n/a' } }
      : {}),
    intellectualRights: {
      para: {
        '#': ['This work is licensed under '],
        ulink: { '@url': metadata.licenseIri, citetitle: metadata.licenseName },
      },
    },
    ...(metadata.coverage ? { coverage: writeCoverage(metadata.coverage) } : {}),
    contact: party,
  };
  const additional = metadata.citation
    ? {
        additionalMetadata: {
          metadata: { gbif: { dateStamp: `${metadata.publishedOn}T00:00:00Z`, citation: metadata.citation } },
        },
      }
    : {};
  const root = {
    'eml:eml': {
      '@xmlns:eml': 'https://eml.ecoinformatics.org/eml-2.2.0',
      '@packageId': `${metadata.datasetId}/v${metadata.version}`,
      '@system': metadata.datasetId,
      '@scope': 'system',
      '@xml:lang': 'eng',
      dataset,
      ...additional,
    },
  };
  return `${create({ version: '1.0', encoding: 'UTF-8' }, root).end({ prettyPrint: true })}\n`;
}

function writeCoverage(coverage: NonNullable<ExportMetadata['coverage']>): object {
  return {
    geographicCoverage: {
      geographicDescription: coverage.description,
      boundingCoordinates: {
        westBoundingCoordinate: coverage.west,
        eastBoundingCoordinate: coverage.east,
        northBoundingCoordinate: coverage.north,
        southBoundingCoordinate: coverage.south,
      },
    },
    temporalCoverage: {
      rangeOfDates: {
        beginDate: { calendarDate: coverage.startOn },
        endDate: { calendarDate: coverage.endOn },
      },
    },
    taxonomicCoverage: {
      generalTaxonomicCoverage: 'Birds',
      taxonomicClassification: { taxonRankName: 'class', taxonRankValue: 'Aves', commonName: 'Birds' },
    },
  };
}
