import { describe, expect, it } from 'vitest'
import { spreadLabels } from '../../../renderer/places/input/headroom-scale.tsx'

describe('labels beside the scale of the input', () => {
  it('stay where they belong while there is room', () => {
    expect(spreadLabels([100, 20, 60], 18, 0, 200)).toEqual([100, 20, 60])
  })

  it('are pushed apart, in their order, and stay inside', () => {
    expect(spreadLabels([50, 52, 51], 10, 0, 200)).toEqual([50, 70, 60])
    expect(spreadLabels([195, 198, 10], 10, 0, 200)).toEqual([190, 200, 10])
  })
})
