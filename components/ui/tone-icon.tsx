import {
  IconAlertTriangle,
  IconCircle,
  IconCircleCheck,
  IconHandStop,
  IconInfoCircle,
} from '@tabler/icons-react';
import type { Tone } from './colours';

const ICONS = {
  lead: IconInfoCircle,
  attention: IconAlertTriangle,
  stop: IconHandStop,
  settled: IconCircleCheck,
  neutral: IconCircle,
} as const;

/** The shape that goes with a colour, so that no meaning hangs on colour alone. */
export function ToneIcon({ tone, size = 18 }: { tone: Tone; size?: number }) {
  const Icon = ICONS[tone];
  return <Icon size={size} stroke={1.75} aria-hidden="true" focusable="false" style={{ flex: 'none' }} />;
}
