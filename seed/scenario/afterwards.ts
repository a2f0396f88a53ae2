import type { Stage } from './foundation';
import type { Life } from './play';

/** What happens to the materials once the birds are catalogued: cleaning, drying, shelves and loans. */
export async function playAfterwards(_stage: Stage, _lives: readonly Life[]): Promise<void> {}
