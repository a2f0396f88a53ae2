import type { MaterialKind } from '@/lib/bench/schema';
import type { PreparationStyle } from '@/lib/bench/styles';
import { say, sayCode } from '@/lib/platform/words/say';

/** Progress with which a product begins; kinds without progress of their own have none. */
const FIRST_STATES: Partial<Record<MaterialKind, string>> = { skin: 'pinned', skeleton: 'rough-cleaned' };

export const firstStateOf = (kind: MaterialKind): string | null => FIRST_STATES[kind] ?? null;

/**
 * Why the carcass cannot be divided into these products; empty when it can. A style says what must come of it at
 * least; more of anything may. Vials are filled before, from the tissues panel.
 */
export function productProblems(
  style: PreparationStyle,
  products: readonly { kind: MaterialKind; count: number }[],
  vials: number,
): string[] {
  if (style.id === 'discard') {
    return [say('A bird that is discarded is not divided: note how and before whom it was disposed of.')];
  }
  const made = (kind: MaterialKind): number =>
    kind === 'vial'
      ? vials
      : products.filter((one) => one.kind === kind).reduce((sum, { count }) => sum + count, 0);
  return style.products
    .filter(({ kind, least }) => made(kind) < least)
    .map(({ kind, least }) =>
      kind === 'vial'
        ? least === 1
          ? say('{label} needs {least} tissue vial: fill it before the carcass is divided.', {
              label: style.label,
              least,
            })
          : say('{label} needs {least} tissue vials: fill it before the carcass is divided.', {
              label: style.label,
              least,
            })
        : say('{label} gives {least} {replace} at least. Choose another style if it did not come of it.', {
            label: style.label,
            least,
            replace: sayCode(kind),
          }),
    );
}
