/** Parts of a scientific name as it stands on a label; none is corrected. */
export interface ParsedName {
  verbatim: string;
  kind: 'name' | 'hybrid' | 'alternatives' | 'indeterminate' | 'unreadable';
  genus: string | null;
  subgenus: string | null;
  specificEpithet: string | null;
  infraspecificEpithet: string | null;
  rank: 'subspecies' | 'species' | 'genus' | 'above genus' | null;
  authorship: string | null;
  /** dwc:identificationQualifier: "cf.", "aff.", "?", "sp.", "ssp." with what follows them. */
  qualifier: string | null;
  /** The name without author and qualifier, for looking up; null when there is nothing to look up. */
  canonical: string | null;
  /** Parents of a hybrid, or the candidates of "traillii/alnorum", each a name of its own. */
  members: ParsedName[];
}

const QUALIFIER = /^(cf|aff|nr|near|prox|conf)\.?$/i;
const INDETERMINATE = /^(sp|spp|spec|species|indet|gen)\.?$/i;
const RANK_MARK = /^(ssp|subsp|subspecies|var|f|form)\.?$/i;
const GENUS = /^\p{Lu}\p{Ll}+(?:-\p{Ll}+)?$/u;
const EPITHET = /^(?=..)\p{Ll}+(?:-\p{Ll}+)*$/u;
const SUPRAGENERIC = /(?:idae|inae|iformes|oidea|aves)$/i;
/** Particles that begin or join names of authors, so that none is taken for an epithet. */
const PARTICLE = /^(?:de|du|da|del|della|la|le|von|van|der|den|zu|et|and|in|ex|dos|des|d)$/;

function emptyName(verbatim: string): ParsedName {
  return {
    verbatim,
    kind: 'unreadable',
    genus: null,
    subgenus: null,
    specificEpithet: null,
    infraspecificEpithet: null,
    rank: null,
    authorship: null,
    qualifier: null,
    canonical: null,
    members: [],
  };
}

/**
 * Reads genus, subgenus, epithets, author, cf. and aff., hybrids and "sp."; an unreadable name comes back with
 * that kind and its verbatim only.
 */
export function parseScientificName(verbatim: string): ParsedName {
  const text = verbatim.replace(/_/g, ' ').replace(/\s+/g, ' ').trim();
  const hybrid = text.split(/ (?:[×xX]|hybr?\.?) /u);
  if (hybrid.length > 1) return readMembers(verbatim, hybrid, 'hybrid', ' × ');
  if (/^[×x] ?\p{Lu}/u.test(text) || /^\S+ ×\S/u.test(text)) {
    const plain = readName(verbatim, text.replace(/^[×x] ?(?=\p{Lu})/u, '').replace(/ ×(?=\S)/u, ' '));
    return { ...plain, kind: plain.kind === 'name' ? 'hybrid' : plain.kind };
  }
  const slash = /^(\p{Lu}\S+ )(\p{Ll}[\p{Ll}-]+) ?\/ ?(.+)$/u.exec(text);
  if (slash) return readMembers(verbatim, [`${slash[1]}${slash[2]}`, slash[3] ?? ''], 'alternatives', ' / ');
  return readName(verbatim, text);
}

/** Each part is a name; one that begins with an epithet or a lone initial takes the genus of the first. */
function readMembers(verbatim: string, parts: string[], kind: ParsedName['kind'], join: string): ParsedName {
  const genus = /^\p{Lu}\S+/u.exec(parts[0] ?? '')?.[0] ?? '';
  const members = parts.map((part) => {
    const initial = /^(\p{Lu})\. ?(\p{Ll}.*)$/u.exec(part);
    const full = initial && genus.startsWith(initial[1] ?? ' ') ? `${genus} ${initial[2]}` : part;
    return parseScientificName(/^\p{Ll}/u.test(full) ? `${genus} ${full}` : full);
  });
  const readable = members.every((member) => member.canonical !== null);
  if (!readable) return emptyName(verbatim);
  const shared = members.every((member) => member.genus === members[0]?.genus);
  return {
    ...emptyName(verbatim),
    kind,
    genus: shared ? (members[0]?.genus ?? null) : null,
    canonical: members.map((member) => member.canonical).join(join),
    members,
  };
}

function readName(verbatim: string, text: string): ParsedName {
  const name = emptyName(verbatim);
  const words = text.split(' ').filter(Boolean);
  const qualifiers: string[] = [];
  if (QUALIFIER.test(words[0] ?? '')) qualifiers.push(words.shift() ?? '');
  const genus = (words.shift() ?? '').replace(/\?$/, () => {
    qualifiers.push('?');
    return '';
  });
  if (!GENUS.test(genus)) return name;
  if (/^\(\p{Lu}\p{Ll}+\)$/u.test(words[0] ?? '') && (words.length === 1 || EPITHET.test(words[1] ?? ''))) {
    name.subgenus = (words.shift() ?? '').slice(1, -1);
  }
  const epithets: string[] = [];
  let indeterminate = false;
  while (words[0] !== undefined) {
    const word = words[0];
    const doubtful = word.endsWith('?') && EPITHET.test(word.slice(0, -1));
    const bare = doubtful ? word.slice(0, -1) : /^\(\p{Ll}+\)$/u.test(word) ? word.slice(1, -1) : word;
    if (QUALIFIER.test(word)) qualifiers.push(word);
    else if (INDETERMINATE.test(word) || (RANK_MARK.test(word) && words.length === 1)) {
      indeterminate = INDETERMINATE.test(word) && epithets.length === 0;
      qualifiers.push(word);
    } else if (RANK_MARK.test(word) && epithets.length > 0 && EPITHET.test(words[1] ?? '')) {
      words.shift();
      continue;
    } else if (epithets.length < 2 && EPITHET.test(bare) && !PARTICLE.test(bare)) {
      epithets.push(bare);
      if (doubtful) qualifiers.push('?');
    } else break;
    words.shift();
  }
  name.genus = genus;
  name.specificEpithet = epithets[0] ?? null;
  name.infraspecificEpithet = epithets[1] ?? null;
  const above = SUPRAGENERIC.test(genus) && epithets.length === 0;
  name.rank = above
    ? 'above genus'
    : ((['genus', 'species', 'subspecies'] as const)[epithets.length] ?? null);
  name.authorship = readAuthorship(words.join(' '));
  if (words.length > 0 && name.authorship === null) return emptyName(verbatim);
  name.qualifier = qualifiers.join(' ') || null;
  name.canonical = [genus, ...epithets].join(' ');
  name.kind = indeterminate ? 'indeterminate' : 'name';
  if (above) name.genus = null;
  return name;
}

/** "(Linnaeus, 1758)", "J. F. Gmelin, 1789", "L."; null for anything that does not begin like an author. */
function readAuthorship(text: string): string | null {
  if (text === '') return null;
  return /^\(?(?:\p{Lu}|d['’]|de |von |van |du |del )[\p{L}\p{M}.,&'’\- ]*(?:,? ?\[?\d{4}[a-z]?\]?)?\)?$/u.test(
    text,
  )
    ? text
    : null;
}
