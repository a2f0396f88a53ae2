'use client';

import { ScanAnywhere } from '@/components/storage/scan-anywhere';
import { KeepOffline } from './keep-offline';
import { LiveChanges } from './live-changes';

/** What works on every page and shows nothing: live changes, pages kept on the device, the scanner's keys. */
export function Unseen({ logging, scanning }: { logging: boolean; scanning: boolean }) {
  return (
    <>
      <LiveChanges />
      <KeepOffline mayLog={logging} />
      {scanning ? <ScanAnywhere /> : null}
    </>
  );
}
