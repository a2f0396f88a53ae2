'use client';

import { preload } from 'react-dom';

const LETTERS = [
  new URL('@fontsource-variable/source-sans-3/files/source-sans-3-latin-wght-normal.woff2', import.meta.url),
  new URL(
    '@fontsource-variable/source-serif-4/files/source-serif-4-latin-wght-normal.woff2',
    import.meta.url,
  ),
];
const NAMES = new URL(
  '@fontsource-variable/source-serif-4/files/source-serif-4-latin-wght-italic.woff2',
  import.meta.url,
);

/**
 * Asks for the letters of every page together with its first line: when they come after it was drawn, all of it is laid
 * out again.
 */
export const askForLetters = (): void => LETTERS.forEach(ask);

/** Asks for the letters of scientific names. */
export const askForItalics = (): void => ask(NAMES);

const ask = ({ href }: URL): void =>
  preload(href, { as: 'font', type: 'font/woff2', crossOrigin: 'anonymous' });
