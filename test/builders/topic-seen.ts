import type { TopicName, TopicValue } from '../../app/contract/contract.ts'
import type { Host } from '../../main/host/host.ts'

/** The next value of a topic that is as wanted, the present one included. */
export const topicSeen = <T extends TopicName>(
  host: Host,
  topic: T,
  key: string | undefined,
  wanted: (v: TopicValue<T>) => boolean,
): Promise<TopicValue<T>> =>
  new Promise((resolve) => {
    const now = host.topics.get(topic, key)
    if (now && wanted(now)) return resolve(now)
    const stop = host.topics.subscribe((message) => {
      if (message.kind !== 'topic' || message.topic !== topic || message.key !== key || !wanted(message.value as TopicValue<T>)) return
      stop()
      resolve(message.value as TopicValue<T>)
    })
  })
