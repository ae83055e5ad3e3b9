import type { LeadRole } from '../job/wiring.ts'

export type ColourSet = { name: string; colours: Partial<Record<LeadRole, string>> }

/**
 * Colours of sensor leads that are met often. Several disagree with each other, so none is ever assumed: the data sheet of the sensor decides.
 * Source: common practice, no source.
 */
export const colourSets: readonly ColourSet[] = [
  {
    name: 'red, black; green, white',
    colours: { 'excitation+': 'red', 'excitation-': 'black', 'signal+': 'green', 'signal-': 'white', shield: 'bare' },
  },
  {
    name: 'red, black; white, green',
    colours: { 'excitation+': 'red', 'excitation-': 'black', 'signal+': 'white', 'signal-': 'green', shield: 'bare' },
  },
  {
    name: 'red, white; green, black',
    colours: { 'excitation+': 'red', 'excitation-': 'white', 'signal+': 'green', 'signal-': 'black', shield: 'bare' },
  },
  {
    name: 'green, black; white, red',
    colours: { 'excitation+': 'green', 'excitation-': 'black', 'signal+': 'white', 'signal-': 'red', shield: 'bare' },
  },
  {
    name: 'blue, black; white, red; sense green, grey',
    colours: {
      'excitation+': 'blue',
      'excitation-': 'black',
      'signal+': 'white',
      'signal-': 'red',
      'sense+': 'green',
      'sense-': 'grey',
      shield: 'bare',
    },
  },
]
