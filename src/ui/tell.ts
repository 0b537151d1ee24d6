/** Tells whoever listens above, through all shadow roots, that something was pressed, chosen or changed. */
export function tell(from: EventTarget, name: string, detail?: unknown): void {
  from.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }))
}
