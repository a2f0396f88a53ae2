'use client';

import { usePathname } from 'next/navigation';
import { useEffect } from 'react';
import { paths } from '@/lib/platform/paths';

/** The worker in public/service-worker.js; null where the browser has none, as over plain HTTP. */
async function offlineWorker(): Promise<ServiceWorker | null> {
  if (!('serviceWorker' in navigator)) return null;
  return (await navigator.serviceWorker.ready).active;
}

/** Takes from this device the pages that were kept for the person who leaves. */
export async function forgetKeptPages(): Promise<void> {
  if (!('caches' in window && 'serviceWorker' in navigator)) return;
  // The worker may be fetching one of them just now.
  (await navigator.serviceWorker.getRegistration())?.active?.postMessage({ forget: true });
  await caches.delete('furcula-pages');
}

/**
 * Has the form for finds and each bench record that is opened kept on this device, so that they open where the network
 * does not reach. Nothing is seen of it.
 */
export function KeepOffline({ mayLog }: { mayLog: boolean }) {
  const pathname = usePathname();
  useEffect(() => {
    // The development server's files change under their names.
    if (!('serviceWorker' in navigator) || process.env.NODE_ENV !== 'production') return;
    navigator.serviceWorker
      .register('/service-worker.js')
      .then(() => (mayLog ? keep(paths.salvageNew) : undefined))
      .catch(() => undefined);
  }, [mayLog]);
  // The worker knows which pages it keeps.
  useEffect(() => void keep(pathname), [pathname]);
  return null;
}

async function keep(pathname: string): Promise<void> {
  (await offlineWorker())?.postMessage({ keep: pathname });
}
