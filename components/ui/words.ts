/** 'on-the-bench' → 'On the bench': the stored word as a person reads it. */
export function sayWord(word: string): string {
  const spaced = word.replaceAll('-', ' ');
  return spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

/** `1 bird`, `3 birds`; give the plural where it is not made with an s. */
export function countOf(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;
}
