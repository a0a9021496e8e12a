// Sentences about a statement. record.html uses them, so they are frozen with the layout.
const DID = {
  approve: "approved this version for production",
  changes: "asked for changes",
  withdraw: "took the earlier decision back",
};

/** Who said what. What staff wrote down is never told as the client's own decision. */
export const said = (s) =>
  s.evidence.elsewhere === null
    ? `${s.name} ${DID[s.kind]}`
    : `${s.evidence.elsewhere.staff} of the shop wrote down that ${s.name} ${DID[s.kind]}`;

export function evidence(s) {
  const { level, codeAt, elsewhere } = s.evidence;
  if (level === "E0") return `Evidence E0: the link mailed to ${s.invited} was used.`;
  if (level === "E1" && codeAt !== null) {
    return `Evidence E1: the link mailed to ${s.invited} was used, and a code mailed there was entered at ${codeAt}.`;
  }
  return elsewhere === null
    ? "Evidence: incomplete."
    : `Evidence S0: given elsewhere (${elsewhere.how}) at ${elsewhere.at} and written down by ${elsewhere.staff} of the shop. This is the shop's word, not the client's.`;
}
