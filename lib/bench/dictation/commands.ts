/** What can be said to the line itself instead of a finding. */
export type LineCommand = 'undo' | 'step-done' | 'help';

const SAID: Record<string, LineCommand> = {
  undo: 'undo',
  'undo that': 'undo',
  'take that back': 'undo',
  'step done': 'step-done',
  'next step': 'step-done',
  help: 'help',
};

/** The command that the whole line is; null when it is something else. */
export function readCommand(line: string): LineCommand | null {
  const words = line
    .toLowerCase()
    .replace(/[^a-z ]/g, ' ')
    .trim()
    .replace(/\s+/g, ' ');
  return Object.hasOwn(SAID, words) ? (SAID[words] ?? null) : null;
}
