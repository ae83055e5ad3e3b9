import type { Shape } from '../../app/profile/register-view.ts'

export const typeWords: Record<Shape['type'], string> = {
  u16: 'unsigned',
  i16: 'signed',
  u32: 'unsigned',
  i32: 'signed',
  f32: 'floating point',
}

/** How many bits, and in which order they come. */
export const orderWords: Record<Shape['order'], string> = {
  AB: '16 bit',
  BA: '16 bit, bytes swapped',
  ABCD: '32 bit, high word first',
  CDAB: '32 bit, low word first',
  BADC: '32 bit, high word first, bytes swapped',
  DCBA: '32 bit, low word first, bytes swapped',
}

/** "signed 32 bit, low word first, 2 decimals": how the words at an address are understood. */
export const shapeText = ({ type, order, decimals }: Omit<Shape, 'address'>): string =>
  `${typeWords[type]} ${orderWords[order]}${decimals === undefined || decimals === 0 ? '' : `, ${decimals} ${decimals === 1 ? 'decimal' : 'decimals'}`}`

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
