/** ISO 3166-2 codes of the first-level parts of the countries whose packs and permits name them. */
const SUBDIVISIONS: Record<string, Record<string, string>> = {
  US: {
    AL: 'Alabama',
    AK: 'Alaska',
    AZ: 'Arizona',
    AR: 'Arkansas',
    CA: 'California',
    CO: 'Colorado',
    CT: 'Connecticut',
    DE: 'Delaware',
    DC: 'District of Columbia',
    FL: 'Florida',
    GA: 'Georgia',
    HI: 'Hawaii',
    ID: 'Idaho',
    IL: 'Illinois',
    IN: 'Indiana',
    IA: 'Iowa',
    KS: 'Kansas',
    KY: 'Kentucky',
    LA: 'Louisiana',
    ME: 'Maine',
    MD: 'Maryland',
    MA: 'Massachusetts',
    MI: 'Michigan',
    MN: 'Minnesota',
    MS: 'Mississippi',
    MO: 'Missouri',
    MT: 'Montana',
    NE: 'Nebraska',
    NV: 'Nevada',
    NH: 'New Hampshire',
    NJ: 'New Jersey',
    NM: 'New Mexico',
    NY: 'New York',
    NC: 'North Carolina',
    ND: 'North Dakota',
    OH: 'Ohio',
    OK: 'Oklahoma',
    OR: 'Oregon',
    PA: 'Pennsylvania',
    RI: 'Rhode Island',
    SC: 'South Carolina',
    SD: 'South Dakota',
    TN: 'Tennessee',
    TX: 'Texas',
    UT: 'Utah',
    VT: 'Vermont',
    VA: 'Virginia',
    WA: 'Washington',
    WV: 'West Virginia',
    WI: 'Wisconsin',
    WY: 'Wyoming',
    AS: 'American Samoa',
    GU: 'Guam',
    MP: 'Northern Mariana Islands',
    PR: 'Puerto Rico',
    VI: 'United States Virgin Islands',
  },
  CA: {
    AB: 'Alberta',
    BC: 'British Columbia',
    MB: 'Manitoba',
    NB: 'New Brunswick',
    NL: 'Newfoundland and Labrador',
    NS: 'Nova Scotia',
    NT: 'Northwest Territories',
    NU: 'Nunavut',
    ON: 'Ontario',
    PE: 'Prince Edward Island',
    QC: 'Quebec',
    SK: 'Saskatchewan',
    YT: 'Yukon',
  },
};

const plain = (name: string) =>
  name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z]/gi, '')
    .toLowerCase();

function findSubdivision(country: string, written: string): { code: string; name: string } | null {
  const known = SUBDIVISIONS[country] ?? {};
  const letters = written.trim().toUpperCase().replace(`${country}-`, '');
  const entry = Object.entries(known).find(
    ([code, name]) => code === letters || plain(name) === plain(written),
  );
  return entry === undefined ? null : { code: `${country}-${entry[0]}`, name: entry[1] };
}

/** 'OH', 'US-OH' and 'ohio' are all kept as 'Ohio'; what is not known stays as written. */
export const nameSubdivision = (country: string, written: string): string =>
  findSubdivision(country, written)?.name ?? written.trim();

/** ISO 3166-2 code of a state, province or territory as written ('Ohio', 'OH' → 'US-OH'); null when not known. */
export function codeSubdivision(country: string, written: string): string | null {
  const found = findSubdivision(country, written);
  if (found !== null) return found.code;
  const code = written.trim().toUpperCase();
  return /^[A-Z]{2}-[A-Z0-9]{1,3}$/.test(code) && code.startsWith(`${country}-`) ? code : null;
}
