/* What a guide's history needs of a page: paper of an older revision is told what has changed since, and the page of an old address
   leads on. Loaded by site.js where the address names a revision, or on a page that was moved. */
(function () {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  /* A page that was moved leads on with what stands behind its address, such as the options of a printed sheet. */
  const onward = document.querySelector("main[data-to]");
  if (onward) location.replace(onward.getAttribute("data-to") + location.search + location.hash);

  /* The code on a printed sheet says of which revision the sheet is. */
  const paper = document.getElementById("of-paper"), printed = /[?&]rev=([^&]*)/.exec(location.search);
  if (paper && printed) {
    const of = decodeURIComponent(printed[1].replace(/%(?![0-9a-f]{2})/gi, "%25"));
    const now = /** @type {Element} */ (document.getElementById("sheet")).getAttribute("data-revision") || "";
    if (of !== now) {
      const b = document.createElement("b"), rest = document.createElement("span");
      b.textContent = fill(say.paper_of, { revision: of }) + " ";
      rest.textContent = fill(say.guide_is_at, { revision: now }) + " ";
      paper.append(b, rest);
      (paper.getAttribute("data-older") || "").split("|").forEach((row) => {
        const at = row.lastIndexOf(" ");
        if (at < 0 || row.slice(0, at) !== of) return;
        const a = document.createElement("a");
        a.href = row.slice(at + 1) + "#since";
        a.textContent = say.changed_since_then;
        paper.append(a);
      });
      paper.hidden = false;
    }
  }
})();
