import { type CSSVariablesResolver, createTheme, type MantineColorsTuple, rem } from '@mantine/core';
import { LIGHT, mixHex } from './colours';

/** Ten shades from a wash to nearly ink; the eighth is the colour itself. */
function shadesOf(wash: string, colour: string): MantineColorsTuple {
  const shade = (index: number) =>
    index <= 7 ? mixHex(wash, colour, index / 7) : mixHex(colour, LIGHT.ink, (index - 7) * 0.3);
  return [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map(shade) as unknown as MantineColorsTuple;
}

/** The library's cross has no name of its own. */
const CLOSE = { 'aria-label': 'Close' };

const lead = shadesOf(LIGHT.leadWash, LIGHT.lead);
const attention = shadesOf(LIGHT.attentionWash, LIGHT.attention);
const stop = shadesOf(LIGHT.stopWash, LIGHT.stop);
const settled = shadesOf(LIGHT.settledWash, LIGHT.settled);

/** Theme colour names and the custom property each stands for; the library's own names get our meanings. */
const MEANING: Record<string, string> = {
  lead: 'lead',
  teal: 'lead',
  blue: 'lead',
  attention: 'attention',
  yellow: 'attention',
  orange: 'attention',
  stop: 'stop',
  red: 'stop',
  settled: 'settled',
  green: 'settled',
};

export const theme = createTheme({
  colors: {
    lead,
    teal: lead,
    blue: lead,
    attention,
    yellow: attention,
    orange: attention,
    stop,
    red: stop,
    settled,
    green: settled,
    gray: [
      '#F2EEE6',
      '#EDE8DE',
      '#D9D3C7',
      '#D9D3C7',
      '#878171',
      '#6B695E',
      '#53605F',
      '#465352',
      '#364244',
      '#1E2A2D',
    ],
    dark: [
      '#E8E4DA',
      '#C9C8C0',
      '#A5ACA8',
      '#747D7B',
      '#323A3A',
      '#262E2F',
      '#1A2021',
      '#14191A',
      '#0F1314',
      '#0A0D0E',
    ],
  },
  primaryColor: 'lead',
  primaryShade: 7,
  white: LIGHT.paper,
  black: LIGHT.ink,
  fontFamily: 'var(--f-sans)',
  fontFamilyMonospace: 'var(--f-sans)',
  headings: {
    fontFamily: 'var(--f-serif)',
    fontWeight: '560',
    textWrap: 'balance',
    sizes: {
      h1: { fontSize: rem(32), lineHeight: '1.25' },
      h2: { fontSize: rem(22), lineHeight: '1.2727' },
      h3: { fontSize: rem(18), lineHeight: '1.3333' },
      h4: { fontSize: rem(16), lineHeight: '1.5' },
    },
  },
  fontSizes: { xs: rem(14), sm: rem(16), md: rem(16), lg: rem(18), xl: rem(20) },
  lineHeights: { xs: '1.4286', sm: '1.5', md: '1.5', lg: '1.5556', xl: '1.6' },
  spacing: { xs: rem(8), sm: rem(12), md: rem(16), lg: rem(24), xl: rem(32) },
  radius: { xs: rem(2), sm: rem(2), md: rem(2), lg: rem(4), xl: rem(4) },
  defaultRadius: 'xs',
  shadows: { xs: 'none', sm: 'none', md: 'none', lg: 'none', xl: 'none' },
  cursorType: 'pointer',
  respectReducedMotion: true,
  activeClassName: '',
  // Plain objects: the components' own .extend() would load every one of them with the first page.
  components: {
    Alert: { defaultProps: { variant: 'light', closeButtonLabel: 'Close' } },
    Anchor: { defaultProps: { underline: 'always' } },
    Badge: {
      defaultProps: { radius: 'xs', size: 'lg' },
      styles: { root: { fontSize: rem(15), fontWeight: 600, letterSpacing: 0, textTransform: 'none' } },
    },
    Button: {
      styles: {
        root: { fontWeight: 600, height: 'auto', minHeight: 'var(--button-height)', justifySelf: 'start' },
        label: { height: 'auto', whiteSpace: 'normal', lineHeight: 1.3, paddingBlock: rem(5) },
      },
    },
    Drawer: {
      defaultProps: { shadow: 'none', transitionProps: { duration: 0 }, closeButtonProps: CLOSE },
    },
    InputWrapper: {
      defaultProps: { inputWrapperOrder: ['label', 'description', 'input', 'error'] },
    },
    Menu: { defaultProps: { shadow: 'none', transitionProps: { duration: 0 } } },
    Modal: {
      defaultProps: { shadow: 'none', transitionProps: { duration: 0 }, closeButtonProps: CLOSE },
    },
    Notification: { defaultProps: { withBorder: true, closeButtonProps: CLOSE } },
    Popover: { defaultProps: { shadow: 'none', transitionProps: { duration: 0 } } },
    Tooltip: { defaultProps: { transitionProps: { duration: 0 }, withArrow: false } },
  },
});

/** The library's custom properties, pointed at ours (see colours.ts), alike in both colour schemes. */
export const cssVariablesResolver: CSSVariablesResolver = () => {
  const shared: Record<string, string> = {
    '--mantine-color-white': 'var(--f-paper)',
    '--mantine-color-black': 'var(--f-ink)',
    '--mantine-color-bright': 'var(--f-ink)',
    '--mantine-color-text': 'var(--f-ink)',
    '--mantine-color-body': 'var(--f-paper)',
    '--mantine-color-dimmed': 'var(--f-ink-soft)',
    '--mantine-color-placeholder': 'var(--f-ink-soft)',
    '--mantine-color-error': 'var(--f-stop)',
    '--mantine-color-success': 'var(--f-settled)',
    '--mantine-color-anchor': 'var(--f-lead)',
    '--mantine-color-default': 'var(--f-sheet)',
    '--mantine-color-default-hover': 'var(--f-band)',
    '--mantine-color-default-color': 'var(--f-ink)',
    '--mantine-color-default-border': 'var(--f-edge)',
    '--mantine-color-disabled': 'var(--f-band)',
    '--mantine-color-disabled-color': 'var(--f-ink-soft)',
    '--mantine-color-disabled-border': 'var(--f-line)',
    '--mantine-primary-color-contrast': 'var(--f-paper)',
  };
  for (const [name, meaning] of Object.entries(MEANING)) {
    const own = `var(--f-${meaning})`;
    const wash = `var(--f-${meaning}-wash)`;
    Object.assign(shared, {
      [`--mantine-color-${name}-text`]: own,
      [`--mantine-color-${name}-filled`]: own,
      [`--mantine-color-${name}-filled-hover`]: meaning === 'lead' ? 'var(--f-lead-deep)' : own,
      [`--mantine-color-${name}-light`]: wash,
      [`--mantine-color-${name}-light-hover`]: wash,
      [`--mantine-color-${name}-light-color`]: own,
      [`--mantine-color-${name}-outline`]: own,
      [`--mantine-color-${name}-outline-hover`]: wash,
    });
  }
  return { variables: {}, light: shared, dark: shared };
};
