document.addEventListener("spectally:page", setUp);
setUp();
