import { describe, expect, test } from 'vitest';
import {
  CHART_DARK,
  CHART_LIGHT,
  colourCss,
  DARK,
  LIGHT,
  mixHex,
  PRINT,
  TONES,
} from '@/components/ui/colours';

/** sRGB to linear light and relative luminance: WCAG 2.2, definition of "relative luminance". */
function linearOf(hex: string): [number, number, number] {
  const channel = (at: number) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}

const luminanceOf = ([r, g, b]: [number, number, number]): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;

/** Contrast ratio: WCAG 2.2, definition of "contrast ratio". */
function contrastOf(one: string, other: string): number {
  const [a, b] = [luminanceOf(linearOf(one)), luminanceOf(linearOf(other))];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

/** Lightness L* of CIE 1976, from relative luminance (D65 white). */
const lightnessOf = (hex: string): number => {
  const y = luminanceOf(linearOf(hex));
  return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (24389 / 27) * y;
};

/** Linear-light matrices for full colour blindness (Machado, Oliveira & Fernandes 2009); written from memory. */
const BLINDNESS = {
  'no red cones': [
    0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998,
  ],
  'no green cones': [
    0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881,
  ],
  'no blue cones': [
    1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039,
  ],
} as const;

type Matrix = (typeof BLINDNESS)[keyof typeof BLINDNESS] | null;

/** CIE L*a*b* (D65) of a colour as seen through a matrix. */
function labOf(hex: string, m: Matrix): [number, number, number] {
  const [r, g, b] = linearOf(hex);
  const seen = m
    ? [m[0] * r + m[1] * g + m[2] * b, m[3] * r + m[4] * g + m[5] * b, m[6] * r + m[7] * g + m[8] * b]
    : [r, g, b];
  const [R = 0, G = 0, B = 0] = seen.map((value) => Math.min(1, Math.max(0, value)));
  const x = (0.4124 * R + 0.3576 * G + 0.1805 * B) / 0.9505;
  const y = 0.2126 * R + 0.7152 * G + 0.0722 * B;
  const z = (0.0193 * R + 0.1192 * G + 0.9505 * B) / 1.089;
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  return [116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))];
}

const distanceOf = (one: string, other: string, m: Matrix): number =>
  Math.hypot(...labOf(one, m).map((value, at) => value - (labOf(other, m)[at] ?? 0)));

describe.each([
  ['light', LIGHT],
  ['dark', DARK],
] as const)('%s palette', (_, palette) => {
  const grounds = ['paper', 'sheet', 'band'] as const;
  const texts = ['ink', 'inkSoft', 'lead', 'leadDeep', 'attention', 'stop', 'settled'] as const;

  test.each(grounds.flatMap((ground) => texts.map((text) => [text, ground] as const)))(
    '%s as text on %s has 4.5:1 (WCAG 2.2, 1.4.3)',
    (text, ground) => expect(contrastOf(palette[text], palette[ground])).toBeGreaterThanOrEqual(4.5),
  );

  test.each(TONES)('on the wash of %s its own colour, ink and soft ink are readable', (tone) => {
    for (const text of [tone, 'ink', 'inkSoft'] as const) {
      expect(contrastOf(palette[text], palette[`${tone}Wash`])).toBeGreaterThanOrEqual(4.5);
    }
  });

  test.each(TONES)('paper as text on a button of %s has 4.5:1', (tone) =>
    expect(contrastOf(palette.paper, palette[tone])).toBeGreaterThanOrEqual(4.5),
  );

  test.each(grounds)('the edge of a control on %s has 3:1 (WCAG 2.2, 1.4.11)', (ground) =>
    expect(contrastOf(palette.edge, palette[ground])).toBeGreaterThanOrEqual(3),
  );
});

describe('the words of the look', () => {
  test('paper, ink, line, teal, amber, brick and moss are the agreed ones', () => {
    expect([LIGHT.paper, LIGHT.ink, LIGHT.line, LIGHT.lead]).toEqual([
      '#FAF8F4',
      '#1E2A2D',
      '#D9D3C7',
      '#0E5A5E',
    ]);
    expect([LIGHT.attention, LIGHT.stop, LIGHT.settled]).toEqual(['#9A5B00', '#A3312B', '#3F6B35']);
    expect(DARK.paper).toBe('#14191A');
  });

  test('both themes are written out, and dark holds on screens only', () => {
    const css = colourCss();
    expect(css).toContain(':root{--f-paper:#FAF8F4;');
    expect(css).toContain('@media screen{:root[data-mantine-color-scheme="dark"]{--f-paper:#14191A;');
    expect(css).toContain('--f-lead-wash:#E3EDEB');
  });

  test('paper is black on white, and every tone can be read on it', () => {
    expect([PRINT.ink, PRINT.paper]).toEqual(['#000000', '#FFFFFF']);
    const onPaper = { ...LIGHT, ...PRINT };
    for (const tone of ['inkSoft', 'lead', 'attention', 'stop', 'settled'] as const)
      expect(contrastOf(onPaper[tone], onPaper.paper)).toBeGreaterThanOrEqual(4.5);
    expect(colourCss()).toMatch(/@media print\{:root\{--f-paper:#FFFFFF;[^{}]*\}\}$/);
  });

  test('a mix ends at its ends', () => {
    expect(mixHex('#000000', '#ffffff', 0)).toBe('#000000');
    expect(mixHex('#000000', '#ffffff', 1)).toBe('#ffffff');
    expect(mixHex('#000000', '#ffffff', 0.5)).toBe('#808080');
  });
});

describe.each([
  ['light', CHART_LIGHT],
  ['dark', CHART_DARK],
] as const)('%s chart order', (_, order) => {
  const pairs = order.flatMap((one, at) => order.slice(at + 1).map((other) => [one, other] as const));
  const neighbours = order.slice(1).map((other, at) => [order[at] ?? '', other] as const);

  test.each([['full colour', null], ...Object.entries(BLINDNESS)] as [string, Matrix][])(
    'any two series differ by 15 ΔE or more: %s',
    (_name, matrix) => {
      for (const [one, other] of pairs) {
        expect(distanceOf(one, other, matrix), `${one} beside ${other}`).toBeGreaterThanOrEqual(15);
      }
    },
  );

  test('neighbours differ by 15 in lightness, so black and white print tells them apart', () => {
    for (const [one, other] of neighbours) {
      expect(
        Math.abs(lightnessOf(one) - lightnessOf(other)),
        `${one} beside ${other}`,
      ).toBeGreaterThanOrEqual(15);
    }
  });
});
