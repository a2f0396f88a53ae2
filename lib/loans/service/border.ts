import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { say } from '@/lib/platform/words/say';
import { BORDER_PACK, EU_MEMBERS } from '../border-pack';
import type { FoundLoan } from '../repo/loans';
import { findListed } from '../repo/materials';
import { borderDocuments, missingDocuments } from '../rules';
import { type LoanDocument, loanDocumentSchema, type ParcelFacts, parcelFactsSchema } from '../schema';
import type { LoanRecord } from '../wire';

const TISSUE_KINDS = ['vial', 'stomach'];
const isCountry = (text: string) => /^[A-Z]{2}$/.test(text);

type Proposal = LoanRecord['border']['parcel'];

/** What the records say of the parcel, and what they cannot say. */
async function proposeParcel(
  tx: Tx,
  loan: FoundLoan,
  collectionId: string,
  fromCountry: string | null,
): Promise<{ parcel: Proposal; unknown: string[] }> {
  const birds = loan.lines.map(({ material }) => material.bird);
  const names = [...new Set(birds.map(({ taxon }) => taxon?.scientificName ?? ''))];
  const { loaded, listed } = await findListed(tx, collectionId, names);
  const origins = [...new Set(birds.map(({ salvage }) => salvage.country))];
  const has = (keys: readonly string[], part: string) => keys.some((key) => key.toLowerCase().includes(part));
  return {
    parcel: {
      fromCountry,
      toCountry: loan.borrower.country,
      anyCitesListed: has(listed, 'cites'),
      bothRegisteredWithCites: false,
      anyMigratoryBirdAct: has(listed, '10.13'),
      anyWildBirdOfEu: origins.some((country) => EU_MEMBERS.includes(country)),
      anyTissue: loan.lines.some(({ material }) => TISSUE_KINDS.includes(material.kind)),
      originCountries: origins.filter(isCountry),
    },
    unknown: [
      ...(fromCountry === null ? [say('The settings do not say in which country this collection is.')] : []),
      ...(has(loaded, 'cites') ? [] : [say('No CITES list is loaded: look the species up.')]),
      ...(has(loaded, '10.13') ? [] : [say('The list of 50 CFR 10.13 is not loaded: look the species up.')]),
      ...(origins.every(isCountry)
        ? []
        : [say('For some birds the country of origin is not written as two letters.')]),
      say('Whether both institutions are registered with CITES is not in the records.'),
    ],
  };
}

/** The papers that the parcel's borders ask for, those that are there, and those that are missing. */
export async function borderOf(
  tx: Tx,
  loan: FoundLoan,
  collectionId: string,
  fromCountry: string | null,
): Promise<LoanRecord['border']> {
  const proposal = await proposeParcel(tx, loan, collectionId, fromCountry);
  const said = parcelFactsSchema.safeParse(loan.parcel);
  const facts: ParcelFacts | null = said.success
    ? said.data
    : (parcelFactsSchema.safeParse(proposal.parcel).data ?? null);
  const there = documentsOf(loan);
  const { caution, documents } =
    facts === null ? { caution: BORDER_PACK.caution, documents: [] } : borderDocuments(facts, BORDER_PACK);
  const isCrossing = facts === null || facts.fromCountry !== facts.toCountry;
  return {
    caution,
    parcel: facts ?? proposal.parcel,
    isProposed: !said.success,
    unknown: said.success ? [] : proposal.unknown,
    documents: documents.map(({ when: _, ...rule }) => rule),
    there,
    // A parcel that may cross a border leaves only when somebody has looked at what it is.
    missing: [
      ...(isCrossing && !said.success ? [say('Say what the parcel is and which borders it crosses')] : []),
      ...missingDocuments(documents, there),
    ],
  };
}

const storedDocuments = loanDocumentSchema.array().catch([]);

export const documentsOf = (loan: Pick<FoundLoan, 'documents'>): LoanDocument[] =>
  storedDocuments.parse(loan.documents);
