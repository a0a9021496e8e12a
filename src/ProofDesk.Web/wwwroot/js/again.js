// A page that waits for something short comes back by itself; without this file the page's own refresh does it.
if (document.querySelector("[data-again]")) setTimeout(() => location.reload(), 1500);
