import { type BusFailure, explainBusFailure, isFromGateway } from '../../app/contract/bus-failure.ts'

export type Explainable =
  | BusFailure
  | { kind: 'refused-request'; why: string; where?: string | undefined }
  | { kind: 'stale'; revision: number; newer: unknown }
  | { kind: 'not-reached' | 'confirm-first'; why: string }

/** One sentence for anything that a request can come back with, a write apart. */
export function explain(failure: Explainable): string {
  switch (failure.kind) {
    case 'refused-request':
    case 'not-reached':
    case 'confirm-first':
      return failure.why
    case 'stale':
      return 'This was changed elsewhere meanwhile; what is held now is shown. Look at it and enter yours again if it still stands.'
    default:
      return explainBusFailure(failure)
  }
}

/** A few words for a narrow column. */
export function briefly(failure: BusFailure): string {
  switch (failure.kind) {
    case 'no-reply':
    case 'set-aside':
      return 'no answer'
    case 'garbled':
      return 'garbled answer'
    case 'foreign':
      return 'foreign answer'
    case 'refused':
      return isFromGateway(failure) ? 'no answer, says the gateway' : `refused, code ${failure.code}`
    case 'link-down':
      return 'link down'
    case 'stopped':
      return 'sending stopped'
    case 'other-master':
      return 'other master'
  }
}
