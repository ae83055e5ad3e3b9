declare const unit: unique symbol

/** A double that carries its unit in its type. Only the constructors below make one; arithmetic gives back a plain number. */
export type Quantity<U extends string> = number & { readonly [unit]: U }

const inUnit =
  <U extends string>() =>
  (value: number) =>
    value as Quantity<U>

export const ohms = inUnit<'ohm'>()
export const volts = inUnit<'V'>()
export const amperes = inUnit<'A'>()
export const watts = inUnit<'W'>()
export const millivoltsPerVolt = inUnit<'mV/V'>()
export const metres = inUnit<'m'>()
export const celsius = inUnit<'degC'>()
export const kilograms = inUnit<'kg'>()
export const newtons = inUnit<'N'>()
export const pascals = inUnit<'Pa'>()
export const metresPerSecondSquared = inUnit<'m/s2'>()
export const kilogramsPerCubicMetre = inUnit<'kg/m3'>()
export const degrees = inUnit<'deg'>()

export type Ohms = Quantity<'ohm'>
export type Volts = Quantity<'V'>
export type Amperes = Quantity<'A'>
export type Watts = Quantity<'W'>
export type MillivoltsPerVolt = Quantity<'mV/V'>
export type Metres = Quantity<'m'>
export type Celsius = Quantity<'degC'>
export type Kilograms = Quantity<'kg'>
export type Newtons = Quantity<'N'>
export type Pascals = Quantity<'Pa'>
export type MetresPerSecondSquared = Quantity<'m/s2'>
export type KilogramsPerCubicMetre = Quantity<'kg/m3'>
export type Degrees = Quantity<'deg'>
