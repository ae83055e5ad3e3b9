import { Button, Checkbox, type CSSVariablesResolver, createTheme, Modal, NativeSelect, Textarea, TextInput, Tooltip } from '@mantine/core'

/** The component library in this page's measures; its colours come from tokens.css, which follows the system's setting. */
export const mantineTheme = createTheme({
  fontFamily: 'var(--text)',
  headings: { fontFamily: 'var(--text)', fontWeight: '600' },
  fontSizes: { xs: '12px', sm: '14px', md: '14px', lg: '16px', xl: '18px' },
  defaultRadius: '4px',
  respectReducedMotion: true,
  cursorType: 'pointer',
  components: {
    Button: Button.extend({
      defaultProps: { variant: 'default', loaderProps: { type: 'dots' } },
      vars: (_theme, props) => ({
        root: {
          ...(props.size === 'compact-sm'
            ? { '--button-height': '22px', '--button-padding-x': '7px', '--button-fz': '13px' }
            : { '--button-height': '28px', '--button-padding-x': '11px', '--button-fz': '14px' }),
          ...(props.variant === 'filled'
            ? {
                '--button-bg': 'var(--action)',
                '--button-hover': 'var(--action)',
                '--button-color': 'var(--on-action)',
                '--button-bd': '1px solid var(--action)',
              }
            : {
                '--button-bg': 'var(--raised)',
                '--button-hover': 'var(--sunk)',
                '--button-color': 'var(--ink)',
                '--button-bd': '1px solid var(--edge)',
              }),
        },
      }),
    }),
    TextInput: TextInput.extend({ defaultProps: { size: 'xs' } }),
    Textarea: Textarea.extend({ defaultProps: { size: 'xs' } }),
    NativeSelect: NativeSelect.extend({ defaultProps: { size: 'xs' } }),
    Checkbox: Checkbox.extend({ defaultProps: { size: 'xs' } }),
    Tooltip: Tooltip.extend({
      defaultProps: {
        multiline: true,
        maw: 320,
        openDelay: 250,
        position: 'bottom-start',
        offset: 6,
        transitionProps: { duration: 100 },
      },
    }),
    Modal: Modal.extend({
      defaultProps: { transitionProps: { duration: 100 }, shadow: 'none', overlayProps: { backgroundOpacity: 0.35 } },
    }),
  },
})

export const pageColours: CSSVariablesResolver = () => {
  const both = {
    '--mantine-color-body': 'var(--ground)',
    '--mantine-color-text': 'var(--ink)',
    '--mantine-color-dimmed': 'var(--ink-second)',
    '--mantine-color-placeholder': 'var(--ink-third)',
    '--mantine-color-default': 'var(--raised)',
    '--mantine-color-default-color': 'var(--ink)',
    '--mantine-color-default-border': 'var(--edge)',
    '--mantine-color-default-hover': 'var(--sunk)',
    '--mantine-color-error': 'var(--lost)',
    '--mantine-primary-color-filled': 'var(--action)',
    '--mantine-primary-color-contrast': 'var(--on-action)',
  }
  return { variables: {}, light: both, dark: both }
}
