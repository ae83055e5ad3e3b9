import { describe, expect, it } from 'vitest'
import { readingSettings } from '../../../app/scaling/reading-settings.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { unitInDoubt, unitsByKind } from '../../../app/scaling/unit-kind.ts'
import { makePoint, makeProfile } from '../../builders/weighing-point.ts'

const offered = ['kg', 't', 'kN', 'bar', 'psi', 'user unit']

describe('the units that an indicator offers', () => {
  it('are set apart by what the sensors measure; mass and force are one kind, and a unit not known here is of none', () => {
    expect(unitsByKind(offered, { unit: 'bar' })).toEqual({ fitting: ['bar', 'psi', 'user unit'], other: ['kg', 't', 'kN'] })
    expect(unitsByKind(offered, { unit: 'kN' })).toEqual({ fitting: ['kg', 't', 'kN', 'user unit'], other: ['bar', 'psi'] })
    expect(unitsByKind(offered, { unit: 'N.m' }).other).toEqual(['kg', 't', 'kN', 'bar', 'psi'])
  })

  it('of another kind are in doubt, with what would be right', () => {
    expect(unitInDoubt('kg', offered, { unit: 'bar' })).toBe(
      'kg is no unit of pressure: readings in it say nothing of this point in bar. Right would be bar, psi.',
    )
    expect(unitInDoubt('psi', offered, { unit: 'kN' })).toMatch(/^psi is no unit of mass or force: .* Right would be kg, t, kN\.$/)
    expect(unitInDoubt('kg', ['kg', 't'], { unit: 'bar' })).toMatch(
      /This indicator offers no unit of pressure; one that does would be right\.$/,
    )
    expect(['bar', 'psi', 'user unit', ''].map((means) => unitInDoubt(means, offered, { unit: 'bar' }))).toEqual(Array(4).fill(undefined))
  })

  it('are named as a choice for the point only where they are of its kind', () => {
    const profile = makeProfile({
      registers: (r) => (r.name === 'reading.unit' ? { options: ['kg', 'bar'].map((means, raw) => ({ raw, means })) } : {}),
    })
    const why = (unit: 'psi' | 'N.m') => {
      const settings = readingSettings(makePoint({ unit }), profile)
      return settings.ok ? '' : explainScalingFailure(settings.failure)
    }
    expect(why('psi')).toBe('The indicator does not show psi; it offers kg, bar. Choose bar for the measuring point.')
    expect(why('N.m')).toMatch(/None is a unit of torque; an indicator that shows one would be right\.$/)
  })
})
