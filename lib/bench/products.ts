import type { MaterialKind } from '@/lib/bench/schema';
import type { PreparationStyle } from '@/lib/bench/styles';

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
    return ['A bird that is discarded is not divided: note how and before whom it was disposed of.'];
  }
  const made = (kind: MaterialKind): number =>
    kind === 'vial'
      ? vials
      : products.filter((one) => one.kind === kind).reduce((sum, { count }) => sum + count, 0);
  return style.products
    .filter(({ kind, least }) => made(kind) < least)
    .map(({ kind, least }) =>
      kind === 'vial'
        ? `${style.label} needs ${least} tissue vial${least === 1 ? '' : 's'}: fill it before the carcass is divided.`
        : `${style.label} gives ${least} ${kind.replace('-', ' ')} at least. Choose another style if it did not come of it.`,
    );
}
