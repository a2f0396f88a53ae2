const MENTION = /@\[([0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12})\]/g;

export type Named = { id: string; name: string };

/** Ids of the people a stored text mentions, each once, in order. */
export const mentionsOf = (text: string): string[] => [
  ...new Set([...text.matchAll(MENTION)].map(([, id]) => id ?? '')),
];

/** A stored text in pieces: words, and people by id. The pieces joined are the text. */
export function piecesOf(text: string): ({ words: string } | { personId: string })[] {
  return text
    .split(MENTION)
    .map((piece, index) => (index % 2 === 0 ? { words: piece } : { personId: piece }))
    .filter((piece) => !('words' in piece) || piece.words !== '');
}

const GONE = 'somebody who left';

/** A stored text as it is typed: "@[id]" becomes "@Name". */
export const toTyped = (text: string, people: readonly Named[]): string =>
  text.replace(MENTION, (_, id: string) => `@${people.find((person) => person.id === id)?.name ?? GONE}`);

const NAME_GOES_ON = /^[\p{L}\p{N}]/u;

/**
 * A typed text as it is stored: "@Name" of a person who was chosen becomes "@[id]". The longest name wins, so that
 * "@Ana Lund" is not Ana; a name that goes on ("@Analise") is no mention.
 */
export function toStored(typed: string, chosen: readonly Named[]): string {
  const byLength = [...chosen].sort((a, b) => b.name.length - a.name.length);
  let stored = '';
  for (let at = 0; at < typed.length; ) {
    const person =
      typed[at] === '@'
        ? byLength.find(
            ({ name }) =>
              typed.startsWith(name, at + 1) && !NAME_GOES_ON.test(typed.slice(at + 1 + name.length)),
          )
        : undefined;
    stored += person === undefined ? typed[at] : `@[${person.id}]`;
    at += person === undefined ? 1 : person.name.length + 1;
  }
  return stored;
}

const LONGEST_NAME_TYPED = 40;

/** The beginning of a name after "@" that the caret stands behind; null where none is being typed. */
export function nameBeingTyped(text: string, caret: number): { from: number; beginning: string } | null {
  const before = text.slice(0, caret);
  const from = before.lastIndexOf('@');
  if (from === -1 || (from > 0 && NAME_GOES_ON.test(before[from - 1] ?? ''))) return null;
  const beginning = before.slice(from + 1);
  return beginning.length > LONGEST_NAME_TYPED || /[\n@[\]]/.test(beginning) ? null : { from, beginning };
}

/** People whose name, or a later part of it, begins as typed; capitals do not matter. */
export function matchNames(people: readonly Named[], beginning: string, most = 8): Named[] {
  const wanted = beginning.toLocaleLowerCase('en');
  return people
    .filter(({ name }) => {
      const low = name.toLocaleLowerCase('en');
      return low.startsWith(wanted) || low.includes(` ${wanted}`);
    })
    .slice(0, most);
}
