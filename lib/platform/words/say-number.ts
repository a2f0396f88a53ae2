import { currentLanguage } from '#ambient-language';
import { LANGUAGES } from './languages';

const MINUS = '\u2212';
const MOST_DECIMALS = 6;

/**
 * A finite number as written in a record: fixed decimals where given, else as many as it has up to six; thousands parted,
 * true minus. Written as Intl.NumberFormat would, without the 30 ms that the first of these takes on a page. Exact for
 * magnitudes up to a thousand million.
 */
export function sayNumber(value: number, decimals?: number): string {
  const { point, thousands, parted } = LANGUAGES[currentLanguage()];
  const places = decimals ?? MOST_DECIMALS;
  const digits = String(Math.round(shift(Math.abs(value), places))).padStart(places + 1, '0');
  const whole = digits.slice(0, digits.length - places);
  const fixed = digits.slice(digits.length - places);
  const part = decimals === undefined ? fixed.replace(/0+$/, '') : fixed;
  const sign = value < 0 && /[1-9]/.test(digits) ? MINUS : '';
  const said = Number(whole) < parted ? whole : whole.replace(/\B(?=(\d{3})+$)/g, thousands);
  return part === '' ? sign + said : `${sign}${said}${point}${part}`;
}

/** Moves the point of a number as it is written: 1.005 by 2 is 100.5, where 1.005 * 100 is a little less. */
function shift(value: number, places: number): number {
  const [digits, exponent = '0'] = String(value).split('e');
  return Number(`${digits}e${Number(exponent) + places}`);
}
