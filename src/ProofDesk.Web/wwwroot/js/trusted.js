// The one Trusted Types policy of the site: no markup is ever made from text. OpenSeadragon clears elements with
// innerHTML = "", so the empty string is let through and nothing else.
if (window.trustedTypes) {
  const refuse = (what) => (text) => {
    if (text === "") return "";
    throw new TypeError(`${what} from text is not allowed here`);
  };
  window.trustedTypes.createPolicy("default", {
    createHTML: refuse("markup"),
    createScript: refuse("script"),
    createScriptURL: refuse("a script address"),
  });
}
document.documentElement.classList.add("js");
