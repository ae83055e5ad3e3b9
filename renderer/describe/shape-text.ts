import type { Shape } from '../../app/profile/register-view.ts'

/** "i32 CDAB, 2 decimals": how the words at an address are understood. */
export const shapeText = ({ type, order, decimals }: Omit<Shape, 'address'>): string =>
  `${type} ${order}${decimals === undefined || decimals === 0 ? '' : `, ${decimals} ${decimals === 1 ? 'decimal' : 'decimals'}`}`

export const tableWords = {
  holding: 'holding registers',
  input: 'input registers',
  coil: 'coils',
  discrete: 'discrete inputs',
} as const

const most = 12

/** A number for a narrow cell: long ones, which nothing sensible means, in powers of ten. */
export const cellNumber = (text: string): string => (text.length <= most ? text : Number(text).toExponential(3))

export const hexText = (word: number): string => word.toString(16).toUpperCase().padStart(4, '0')
