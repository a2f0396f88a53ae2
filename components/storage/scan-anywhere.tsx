'use client';

import { useRouter } from 'next/navigation';
import { notify } from '@/components/ui/notify';
import { problemOf } from '@/components/ui/problem';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import type { ScanAnswer } from '@/lib/storage/wire';
import { findCode } from './queries';
import { useWedge } from './wedge';

/** The page of what a scan found. */
export function pageOf(answer: ScanAnswer): string {
  switch (answer.found) {
    case 'unit':
      return paths.storageUnit(answer.unit.id);
    case 'bird':
      return paths.bird(answer.bird.id);
    case 'material': {
      const { materialId, kind, birdId } = answer.material;
      if (kind === 'vial') return paths.vial(materialId);
      return kind === 'carcass' ? paths.bird(birdId) : paths.material(materialId);
    }
  }
}

/** Scanning a label on any page, with no field in use, opens what carries it. */
export function ScanAnywhere() {
  const router = useRouter();
  useWedge((code) => {
    // A page with a scan box of its own takes the code itself.
    const box = document.querySelector<HTMLFormElement>('form[data-scan-box]');
    const field = box?.querySelector('input');
    if (box && field) {
      field.value = code;
      box.requestSubmit();
      return;
    }
    findCode(code)
      .then((answer) => router.push(pageOf(answer)))
      .catch((error: unknown) =>
        notify({
          color: 'attention',
          message: problemOf(error).title ?? say('The code was not found.'),
        }),
      );
  });
  return null;
}
