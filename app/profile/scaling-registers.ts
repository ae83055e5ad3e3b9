import type { Profile } from './schema.ts'

/** Whether a setting, by name or key, is one of the values that a reading is scaled by; those of a point belong together. */
export const isScaling = (key: string): boolean => key.startsWith('scale.')

/** Names that a profile must give, as registers or panel entries, for its scaling model to be set. */
export function scalingNames(scaling: Profile['scaling']): string[] {
  switch (scaling.model) {
    case 'two-pairs':
      return ['scale.lower.signal', 'scale.lower.reading', 'scale.upper.signal', 'scale.upper.reading']
    case 'pair-table':
      return Array.from({ length: scaling.pairs }, (_, i) => i + 1).flatMap((n) => [`scale.table.${n}.signal`, `scale.table.${n}.reading`])
    case 'slope-intercept':
      return ['scale.slope', 'scale.intercept']
    case 'capacity-rated-output':
      return ['scale.capacity', 'scale.rated-output']
    case 'counts':
      return ['scale.lower.counts', 'scale.lower.reading', 'scale.upper.counts', 'scale.upper.reading']
    case 'applied-load-capture':
      return ['scale.upper.reading']
    case 'front-panel-entry':
      return []
  }
}

/** What a profile still lacks for its scaling model, as keys such as `scale.upper.signal@1`; empty where nothing is missing. */
export function missingForScaling(p: Pick<Profile, 'scaling' | 'registers' | 'panel' | 'channels' | 'commands'>): string[] {
  const given = [...p.registers, ...(p.panel ?? [])]
  const channels = Array.from({ length: p.channels }, (_, i) => i + 1)
  const missing = channels.flatMap((channel) =>
    scalingNames(p.scaling)
      .filter((name) => !given.some((r) => r.name === name && (r.channel ?? channel) === channel))
      .map((name) => `${name}@${channel}`),
  )
  if (p.scaling.model === 'applied-load-capture' && !p.commands['capture-upper']) missing.push('command capture-upper')
  return missing
}
