import { phrases } from '@/lib/platform/words/say';
import { type BorderPack, borderPackSchema } from './schema';

/** EU member states, for rules that the birds directive makes. */
export const EU_MEMBERS: readonly string[] =
  'AT BE BG HR CY CZ DK EE FI FR DE GR HU IE IT LV LT LU MT NL PL PT RO SK SI ES SE'.split(' ');

/**
 * The start pack of border documents. `verified` is set only where the rule was read in the law's own text; the rest
 * was read as a heading, in an older edition or recalled, and waits for an officer. An institution edits its own copy.
 */
export const BORDER_PACK: BorderPack = phrases(
  borderPackSchema.parse({
    caution:
      'This list informs and is not legal advice. It may be incomplete or out of date. Ask the permit officer and the authorities of each country that the parcel touches before it leaves; local rules decide.',
    rules: [
      {
        id: 'cites-label',
        document: 'CITES scientific exchange label',
        detail:
          'Non-commercial loan, gift or exchange of preserved specimens between registered scientific institutions travels under a label. It bears both institutions’ codes, names and addresses, a description and a signature; for accessioned specimens only.',
        citation:
          'CITES Article VII(6), Resolution Conf. 11.15; for the label’s content in the US 50 CFR 23.48',
        verified: false,
        when: { crossesBorder: true, anyCitesListed: true, bothRegisteredWithCites: true },
      },
      {
        id: 'cites-permit',
        document: 'CITES export permit, and import permit where the appendix asks for one',
        detail:
          'Where one of the two institutions is not registered, listed species need the ordinary documents.',
        citation:
          'CITES Articles III to V; the exemption of Article VII(6) covers registered institutions only',
        verified: false,
        when: { crossesBorder: true, anyCitesListed: true, bothRegisteredWithCites: false },
      },
      {
        id: 'us-declaration',
        document: 'US wildlife declaration',
        detail: 'Declared to the wildlife service when specimens enter or leave the United States.',
        citation: '50 CFR 14.63 (read in an older edition)',
        verified: false,
        when: { crossesBorder: true, touchesAnyOf: ['US'] },
      },
      {
        id: 'us-marking',
        document: 'Parties on the outside of the parcel, list of contents',
        detail:
          'Sender and receiver on the outside; inside a list by scientific name and number of each species.',
        citation: '50 CFR 14.81 (read in an older edition)',
        verified: false,
        when: { crossesBorder: true, touchesAnyOf: ['US'] },
      },
      {
        id: 'us-migratory-birds',
        document: 'US migratory bird import or export permit',
        detail: 'For birds on the list of 50 CFR 10.13 that cross the border of the United States.',
        citation: '50 CFR 21.67 (21.21 until 2022)',
        verified: false,
        when: { crossesBorder: true, touchesAnyOf: ['US'], anyMigratoryBirdAct: true },
      },
      {
        id: 'eu-birds-directive',
        document: 'Proof of lawful origin or a derogation for research',
        detail:
          'Wild birds of the European territory: keeping and handing on need a lawful origin or a derogation.',
        citation: 'Directive 2009/147/EC Articles 5(e), 6 and 9(1)(b)',
        verified: false,
        when: { touchesAnyOf: [...EU_MEMBERS], anyWildBirdOfEu: true },
      },
      {
        id: 'uk-lawful-origin',
        document: 'Proof of lawful origin',
        detail: 'The holder of a wild bird, or a part of one, must be able to show where it came from.',
        citation: 'Wildlife and Countryside Act 1981 (official guidance)',
        verified: false,
        when: { touchesAnyOf: ['GB'] },
      },
      {
        id: 'uk-wales-form',
        document: 'Transfer of title or object entry form',
        detail: 'Museums named in the Welsh licence possess, exchange and lend with such a form.',
        citation: 'Welsh licence under the Wildlife and Countryside Act 1981 (official guidance)',
        verified: false,
        when: { touchesAnyOf: ['GB'] },
      },
      {
        id: 'canada-possession',
        document: 'Canadian permit for possession for science',
        detail: 'Possession and scientific use of migratory birds are permitted by activity, with reports.',
        citation: 'Migratory Birds Regulations, 2022 (SOR/2022-105)',
        verified: false,
        when: { touchesAnyOf: ['CA'] },
      },
      {
        id: 'australia-source',
        document: 'Authority of the source under state law',
        detail: 'State law applies; specimens are accepted from authorised sources only.',
        citation: 'Australian state and territory wildlife law',
        verified: false,
        when: { touchesAnyOf: ['AU'] },
      },
      {
        id: 'access-terms',
        document: 'Access and benefit-sharing papers',
        detail:
          'Country and date of access, references of the consent and of the agreed terms, the certificate; whether the use asked for, transfer and destructive sampling are allowed.',
        citation: 'Nagoya Protocol on access to genetic resources and benefit-sharing',
        verified: false,
        when: { anyTissue: true, originAbroad: true },
      },
    ],
  }),
);
