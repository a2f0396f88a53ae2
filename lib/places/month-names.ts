/** Names of months as they stand on labels; the first three letters of most serve as their short form. */
const NAMES: string[][] = [
  ['january', 'januar', 'janvier', 'enero', 'ene', 'janeiro', 'gennaio', 'gen', 'januari', 'jänner'],
  ['february', 'februar', 'février', 'fév', 'febrero', 'fevereiro', 'fev', 'febbraio', 'februari'],
  ['march', 'märz', 'mrz', 'mars', 'marzo', 'março', 'maart', 'mrt', 'marts'],
  ['april', 'avril', 'avr', 'abril', 'abr', 'aprile'],
  ['may', 'mai', 'mayo', 'maio', 'maggio', 'mag', 'mei', 'maj'],
  ['june', 'juni', 'juin', 'junio', 'junho', 'giugno', 'giu'],
  ['july', 'juli', 'juillet', 'julio', 'julho', 'luglio', 'lug'],
  ['august', 'août', 'aoû', 'agosto', 'ago', 'augustus'],
  ['september', 'sept', 'septembre', 'septiembre', 'setiembre', 'setembro', 'set', 'settembre'],
  ['october', 'oktober', 'okt', 'octobre', 'octubre', 'outubro', 'out', 'ottobre', 'ott'],
  ['november', 'novembre', 'noviembre', 'novembro'],
  ['december', 'dezember', 'dez', 'décembre', 'déc', 'diciembre', 'dic', 'dezembro', 'dicembre'],
];
const ROMAN = ['i', 'ii', 'iii', 'iv', 'v', 'vi', 'vii', 'viii', 'ix', 'x', 'xi', 'xii'];
const MONTHS = new Map<string, number>();
for (const [index, names] of NAMES.entries()) {
  const [english = ''] = names;
  for (const name of [...names, english.slice(0, 3)]) MONTHS.set(name, index + 1);
}

/** The month, 1 to 12, of a name in one of eight languages or a Roman numeral; null otherwise. */
export function findMonth(word: string): number | null {
  const lower = word.toLowerCase().replace(/\.$/, '');
  const roman = ROMAN.indexOf(lower);
  return roman >= 0 ? roman + 1 : (MONTHS.get(lower) ?? null);
}
