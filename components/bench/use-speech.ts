'use client';

import { useCallback, useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { say } from '@/lib/platform/words/say';

interface Recogniser {
  lang: string;
  interimResults: boolean;
  continuous: boolean;
  onresult: ((event: { results: ArrayLike<ArrayLike<{ transcript: string }>> }) => void) | null;
  onend: (() => void) | null;
  onerror: ((event: { error: string }) => void) | null;
  start: () => void;
  stop: () => void;
}
type RecogniserMaker = new () => Recogniser;

const makerOf = (): RecogniserMaker | null => {
  const page = window as unknown as Partial<
    Record<'SpeechRecognition' | 'webkitSpeechRecognition', RecogniserMaker>
  >;
  return page.SpeechRecognition ?? page.webkitSpeechRecognition ?? null;
};
const never = () => () => {};

/** The browser's own speech recognition, where it has one. What it hears goes to `onHeard` as text. */
export function useSpeech(onHeard: (text: string) => void) {
  const available = useSyncExternalStore(
    never,
    () => makerOf() !== null,
    () => false,
  );
  const [listening, setListening] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const recogniser = useRef<Recogniser | null>(null);
  useEffect(() => () => recogniser.current?.stop(), []);

  const toggle = useCallback(() => {
    if (recogniser.current !== null) {
      recogniser.current.stop();
      return;
    }
    const Maker = makerOf();
    if (Maker === null) return;
    const made = new Maker();
    made.lang = 'en';
    made.interimResults = true;
    made.continuous = false;
    made.onresult = ({ results }) =>
      onHeard(
        Array.from(results)
          .map((result) => result[0]?.transcript ?? '')
          .join(' ')
          .trim(),
      );
    made.onerror = ({ error }) => setProblem(say('The browser could not listen ({error}).', { error }));
    made.onend = () => {
      recogniser.current = null;
      setListening(false);
    };
    setProblem(null);
    recogniser.current = made;
    made.start();
    setListening(true);
  }, [onHeard]);

  return { available, listening, problem, toggle };
}
