'use client';

import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { z } from 'zod';

const change = z.object({ kind: z.string(), subjectId: z.string(), birdId: z.string().nullable() });
/** Changes that arrive together ask for their pages once. */
const GATHER_MS = 150;

/**
 * Listens for committed changes and asks again for what is on screen: queries of the same stage (the first word of
 * the key is the first word of the event), queries that carry the record's or the bird's id, and the counts.
 */
export function LiveChanges() {
  const queries = useQueryClient();
  useEffect(() => {
    const source = new EventSource('/api/live');
    const touched = new Set<string>();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const refresh = () => {
      timer = undefined;
      const words = new Set(touched);
      touched.clear();
      void queries.invalidateQueries({
        predicate: ({ queryKey }) =>
          queryKey[0] === 'desk' ||
          queryKey.some((part) => words.has(typeof part === 'string' ? part : JSON.stringify(part))) ||
          (queryKey[0] === 'history' &&
            [...words].some((word) => JSON.stringify(queryKey[1]).includes(word))),
      });
    };
    source.onmessage = ({ data }) => {
      const heard = change.safeParse(JSON.parse(String(data)));
      if (!heard.success) return;
      touched.add(heard.data.kind.split('.')[0] ?? '').add(heard.data.subjectId);
      if (heard.data.birdId !== null) touched.add(heard.data.birdId);
      timer ??= setTimeout(refresh, GATHER_MS);
    };
    // After a break, anything may have changed.
    let wasOpen = false;
    source.onopen = () => {
      if (wasOpen) void queries.invalidateQueries();
      wasOpen = true;
    };
    return () => {
      clearTimeout(timer);
      source.close();
    };
  }, [queries]);
  return null;
}
