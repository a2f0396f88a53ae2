import { Fragment, type ReactNode } from 'react';
import { translate } from '@/lib/platform/words/say';

/** A text in the language of the reader, with parts of the page where `{name}` stands; see `say`. */
export function sayWith(text: string, parts: Readonly<Record<string, ReactNode>>): ReactNode {
  return translate(text)
    .split(/\{(\w+)\}/)
    .map((piece, index) => (
      // biome-ignore lint/suspicious/noArrayIndexKey: the pieces of one sentence keep their order
      <Fragment key={index}>{index % 2 === 0 ? piece : parts[piece]}</Fragment>
    ));
}
