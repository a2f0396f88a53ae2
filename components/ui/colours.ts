/** Furcula's colours: paper, ink, one leading teal, three that mean something. The one source for screen and print. */

export const TONES = ['lead', 'attention', 'stop', 'settled'] as const;
/** What a colour means; `neutral` is ink and means nothing. */
export type Tone = (typeof TONES)[number] | 'neutral';

export type Palette = {
  /** Ground of a page. */
  paper: string;
  /** Ground of what lies on the paper: fields, cards, menus. */
  sheet: string;
  /** Ground of heads and of a row under the pointer. */
  band: string;
  ink: string;
  inkSoft: string;
  /** Border of a control: at least 3:1 on every ground. */
  edge: string;
  /** Hairline between things; never the only sign of anything. */
  line: string;
  lead: string;
  leadDeep: string;
  leadWash: string;
  attention: string;
  attentionWash: string;
  stop: string;
  stopWash: string;
  settled: string;
  settledWash: string;
};

export const LIGHT: Palette = {
  paper: '#FAF8F4',
  sheet: '#FFFDFA',
  band: '#F2EEE6',
  ink: '#1E2A2D',
  inkSoft: '#53605F',
  edge: '#878171',
  line: '#D9D3C7',
  lead: '#0E5A5E',
  leadDeep: '#0A474A',
  leadWash: '#E3EDEB',
  attention: '#9A5B00',
  attentionWash: '#F8ECD6',
  stop: '#A3312B',
  stopWash: '#F8E4DF',
  settled: '#3F6B35',
  settledWash: '#E7EFDF',
};

export const DARK: Palette = {
  paper: '#14191A',
  sheet: '#1A2021',
  band: '#202829',
  ink: '#E8E4DA',
  inkSoft: '#A5ACA8',
  edge: '#747D7B',
  line: '#323A3A',
  lead: '#7CC0BB',
  leadDeep: '#98D2CD',
  leadWash: '#1B3435',
  attention: '#E3AC57',
  attentionWash: '#372B18',
  stop: '#EE978C',
  stopWash: '#3D2321',
  settled: '#9CC38C',
  settledWash: '#233020',
};

/**
 * Order of series in a chart, from the teal and the amber outward: neighbours differ in lightness as well as in hue,
 * so that the order survives colour blindness and a black-and-white printer.
 */
export const CHART_LIGHT = ['#0E5A5E', '#D08A1C', '#6B4413', '#8CC7C2', '#8E8776', '#E3C48C'] as const;
export const CHART_DARK = ['#7CC0BB', '#B87413', '#F0CF98', '#3B7F80', '#E8E4DA', '#8A5A1A'] as const;

/** On paper: black on white, no washes; what a tone means stands beside it as an icon and a word. */
export const PRINT: Partial<Palette> = {
  paper: '#FFFFFF',
  sheet: '#FFFFFF',
  band: '#FFFFFF',
  ink: '#000000',
  inkSoft: '#333333',
  lead: '#000000',
  leadWash: '#FFFFFF',
  attentionWash: '#FFFFFF',
  stopWash: '#FFFFFF',
  settledWash: '#FFFFFF',
};

const kebab = (name: string): string => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

const declarations = (palette: Partial<Palette>, chart: readonly string[]): string =>
  [
    ...Object.entries(palette).map(([name, colour]) => `--f-${kebab(name)}:${colour}`),
    ...chart.map((colour, index) => `--f-chart-${index + 1}:${colour}`),
  ].join(';');

/** The custom properties `--f-…` of both themes as a style sheet, and what is otherwise on paper. */
export function colourCss(): string {
  const light = declarations(LIGHT, CHART_LIGHT);
  const dark = declarations(DARK, CHART_DARK);
  return [
    `:root{${light}}`,
    `@media screen{:root[data-mantine-color-scheme="dark"]{${dark}}}`,
    `@media print{:root{${declarations(PRINT, [])}}}`,
  ].join('');
}

/** A colour between two hex colours; `share` 0 is the first, 1 the second. */
export function mixHex(from: string, to: string, share: number): string {
  const channel = (hex: string, at: number) => Number.parseInt(hex.slice(at, at + 2), 16);
  const mixed = [1, 3, 5].map((at) => Math.round(channel(from, at) * (1 - share) + channel(to, at) * share));
  return `#${mixed.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
}
