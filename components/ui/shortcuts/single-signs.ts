import { useSyncExternalStore } from 'react';

const KEPT = 'furcula-single-signs';
const listeners = new Set<() => void>();

function listen(listener: () => void) {
  listeners.add(listener);
  window.addEventListener('storage', listener);
  return () => {
    listeners.delete(listener);
    window.removeEventListener('storage', listener);
  };
}

/** Where the device keeps nothing, they act. */
function read(): boolean {
  try {
    return localStorage.getItem(KEPT) !== 'false';
  } catch {
    return true;
  }
}

function write(act: boolean): void {
  localStorage.setItem(KEPT, String(act));
  for (const listener of listeners) listener();
}

/** Whether letters and signs pressed alone act, on this device. Those who speak to the computer may want them off. */
export const useSingleSigns = () => [useSyncExternalStore(listen, read, () => true), write] as const;
