'use client';

import { useEffect, useRef, useState } from 'react';
import { say } from '@/lib/platform/words/say';
import classes from './scan-box.module.css';

type Detector = { detect: (source: HTMLVideoElement) => Promise<{ rawValue: string }[]> };
type DetectorClass = new (options: { formats: string[] }) => Detector;

const FORMATS = ['data_matrix', 'qr_code', 'code_128'];
const LOOK_EVERY_MS = 200;
/** The same code in view is not taken again before this has passed. */
const REST_MS = 2_500;

const detectorClass = (): DetectorClass | undefined =>
  (globalThis as { BarcodeDetector?: DetectorClass }).BarcodeDetector;

/** Whether this browser reads codes from a camera by itself (and the page may ask for one: https or this machine). */
export const mayScanByCamera = (): boolean =>
  detectorClass() !== undefined && typeof navigator.mediaDevices?.getUserMedia === 'function';

/** The camera's picture; each code that comes into view is taken once. */
export function CameraScan({ onCode, onEnd }: { onCode: (code: string) => void; onEnd: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const taken = useRef({ code: '', at: 0 });
  const handlers = useRef({ onCode, onEnd });
  handlers.current = { onCode, onEnd };
  const [failure, setFailure] = useState<string | null>(null);

  useEffect(() => {
    const Class = detectorClass();
    const screen = video.current;
    if (Class === undefined || screen === null) return;
    const detector = new Class({ formats: FORMATS });
    let stream: MediaStream | null = null;
    let isOver = false;
    const look = async () => {
      const [found] = screen.readyState >= 2 ? await detector.detect(screen).catch(() => []) : [];
      const last = taken.current;
      if (found !== undefined && (found.rawValue !== last.code || Date.now() - last.at > REST_MS)) {
        taken.current = { code: found.rawValue, at: Date.now() };
        handlers.current.onCode(found.rawValue);
      }
    };
    const timer = setInterval(() => void look(), LOOK_EVERY_MS);
    navigator.mediaDevices
      .getUserMedia({ video: { facingMode: 'environment' } })
      .then((opened) => {
        stream = opened;
        if (isOver) for (const track of opened.getTracks()) track.stop();
        else screen.srcObject = opened;
      })
      .catch(() =>
        setFailure(say('The camera could not be opened. Allow it for this page, or type the code.')),
      );
    return () => {
      isOver = true;
      clearInterval(timer);
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
  }, []);

  if (failure !== null) return <p role="alert">{failure}</p>;
  return (
    <video ref={video} className={classes.video} autoPlay playsInline muted aria-label={say('Camera')} />
  );
}
