'use client';

import { usePathname, useRouter, useSearchParams } from 'next/navigation';
import { useCallback, useRef } from 'react';

/**
 * A list's state lives in the address: filters, sorting, page size and the cursor of the page. The back button and a
 * copied link bring the same rows.
 */
export function useListAddress() {
  const router = useRouter();
  const pathname = usePathname();
  const search = useSearchParams();
  const depth = useRef(0);

  const go = useCallback(
    (changes: Record<string, string | number | null | undefined>, how: 'push' | 'replace') => {
      const next = new URLSearchParams(search);
      for (const [key, value] of Object.entries(changes)) {
        if (value === null || value === undefined || value === '') next.delete(key);
        else next.set(key, String(value));
      }
      const text = next.toString();
      router[how](text === '' ? pathname : `${pathname}?${text}`, { scroll: false });
    },
    [router, pathname, search],
  );

  /** Changes a filter and returns to the first page. */
  const filter = (changes: Record<string, string | number | null | undefined>) => {
    depth.current = 0;
    go({ ...changes, after: null }, 'replace');
  };

  /** What DataList's paging wants, from the answer of the page. */
  const paging = (next: string | null | undefined, size: number) => ({
    size,
    onSize: (chosen: number) => filter({ size: chosen }),
    onNext:
      next === null || next === undefined
        ? undefined
        : () => {
            depth.current += 1;
            go({ after: next }, 'push');
          },
    onPrevious: search.has('after')
      ? () => {
          if (depth.current === 0) return go({ after: null }, 'push');
          depth.current -= 1;
          router.back();
        }
      : undefined,
  });

  return { values: Object.fromEntries(search), filter, paging };
}
