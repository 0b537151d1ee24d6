import { AudioClock } from '../play/audio-clock.ts'
import { LookAhead } from '../play/look-ahead.ts'
import { MidiPorts } from '../play/midi-ports.ts'
import type { OutputError } from '../play/note-output.ts'
import { SoundOutput } from '../play/sound-output.ts'
import { Transport } from '../play/transport.ts'

/** A port as the page lists it. */
export interface PortName {
  readonly id: string
  readonly name: string
}

/** What happens to the sound by itself. */
export interface SoundListener {
  /** it was played to its end */
  ended(): void
  /** the context was interrupted, or the audio thread failed: nothing sounds any more */
  failed(error: OutputError): void
  /** the port that was played on is gone; the built-in sound has taken over */
  portLost(error: OutputError): void
  portsChanged(ports: readonly PortName[]): void
}

/** Everything that sounds, loaded after the first sight of the page. */
export interface Sound {
  readonly transport: Transport
  /** fetches and decodes the bank. @throws OutputError */
  load(): Promise<void>
  /** asks for MIDI ports, on a press. @throws OutputError */
  ports(): Promise<readonly PortName[]>
  /** sends notes to a port, or with `undefined` to the built-in sound, on a press. @throws OutputError */
  goTo(port: string | undefined): Promise<void>
  /** whether it is to be filled some forty times a second */
  follow(playing: boolean): void
  /** silence on every output that was ever played on, whatever hangs there */
  silence(): void
}

/** Puts clock, outputs and transport together. */
export function openSound(listener: SoundListener): Sound {
  const clock = new AudioClock(failed)
  const builtIn = new SoundOutput(clock, failed)
  const transport = new Transport(clock, builtIn, () => {
    lookAhead.stop()
    listener.ended()
  })
  const lookAhead = new LookAhead(() => transport.advance())
  const midi = new MidiPorts(clock, {
    changed: (ports) => listener.portsChanged(ports.map(named)),
    lost: (error) => {
      listener.portLost(error)
      void transport.setOutput(builtIn).catch(failed)
    },
  })

  function failed(error: OutputError): void {
    transport.stop()
    lookAhead.stop()
    listener.failed(error)
  }

  return {
    transport,
    load: () => builtIn.prepare(),
    ports: async () => (await midi.open()).map(named),
    goTo: (port) => transport.setOutput(port === undefined ? builtIn : midi.outputOf(port)),
    follow: (playing) => (playing ? lookAhead.start() : lookAhead.stop()),
    silence: () => {
      builtIn.stop()
      midi.silence()
    },
  }
}

function named({ id, name }: PortName): PortName {
  return { id, name }
}
