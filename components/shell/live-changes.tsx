'use client';

import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { z } from 'zod';

const change = z.object({ kind: z.string(), subjectId: z.string(), birdId: z.string().nullable() });
/** Changes that arrive together ask for their pages once. */
const GATHER_MS = 150;
/** A browser gives up when it is answered an error, which a proxy does while what is behind it starts anew. */
const OPEN_AGAIN_MS = 10_000;

/**
 * Listens for committed changes and asks again for what is on screen: queries of the same stage (the first word of
 * the key is the first word of the event), queries that carry the record's or the bird's id, and the counts.
 */
export function LiveChanges() {
  const queries = useQueryClient();
  useEffect(() => {
    let source: EventSource;
    const touched = new Set<string>();
    let timer: ReturnType<typeof setTimeout> | undefined;
    let again: ReturnType<typeof setTimeout> | undefined;
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
    const hear = ({ data }: MessageEvent) => {
      const heard = change.safeParse(JSON.parse(String(data)));
      if (!heard.success) return;
      touched.add(heard.data.kind.split('.')[0] ?? '').add(heard.data.subjectId);
      if (heard.data.birdId !== null) touched.add(heard.data.birdId);
      timer ??= setTimeout(refresh, GATHER_MS);
    };
    let wasOpen = false;
    const open = () => {
      source = new EventSource('/api/live');
      source.onmessage = hear;
      source.onopen = () => {
        // After a break, anything may have changed.
        if (wasOpen) void queries.invalidateQueries();
        wasOpen = true;
      };
      source.onerror = () => {
        if (source.readyState === EventSource.CLOSED) again = setTimeout(open, OPEN_AGAIN_MS);
      };
    };
    open();
    return () => {
      clearTimeout(timer);
      clearTimeout(again);
      source.close();
    };
  }, [queries]);
  return null;
}
