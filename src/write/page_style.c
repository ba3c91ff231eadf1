/* The look of every page: black on white or the other way round, and on paper. */
#include "html_page.h"

/* Rows of a table as blocks, each cell behind the name of its column; s: the tables meant. */
#define ROWS_AS_BLOCKS(s)                                                                       \
    s " thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}\n"   \
    s " table," s " tbody{display:block}\n"                                                     \
    s " tr{display:flex;flex-wrap:wrap;gap:.05rem .9rem;padding:.45rem 0;"                      \
    "border-bottom:1px solid var(--line);break-inside:avoid}\n"                                 \
    s " td{display:block;padding:0;text-align:left;white-space:normal;overflow-wrap:anywhere}\n" \
    s " td.lead{font-weight:600}\n"                                                             \
    s " td::before{content:attr(data-label) \" \";color:var(--second);font-weight:400}\n"       \
    s " td[data-label=\"\"]::before{content:none}\n"                                            \
    s " td[class*=tone-]::before{color:inherit}\n"                                              \
    s " td[data-unit]::after{content:\"\\00a0\" attr(data-unit)}\n"                             \
    s " tr.bad{border-left:.3rem solid var(--bad);padding-left:.5rem}\n"                         \
    s " tr.bad>td:first-child{box-shadow:none;padding-left:0}\n"

#define LIGHT                                                                                   \
    "--text:#1a1a1a;--second:#595959;--paper:#fff;--line:#d8d8d8;--rule:#999;--bad:#b63a0c;"     \
    "--on-bad:#fff;--raised:#fbe9cf;--on-raised:#1a1a1a;--raised-edge:#9a5b00"

const char *const dw_page_style[] = {
    ":root{color-scheme:light dark;" LIGHT "}\n"
    "@media (prefers-color-scheme:dark){:root{--text:#ececec;--second:#b3b3b3;--paper:#1b1b1b;"
    "--line:#3a3a3a;--rule:#777;--bad:#ff9d66;--on-bad:#1b1b1b;--raised:#4a3713;"
    "--on-raised:#ececec;--raised-edge:#e0b64a}}\n"
    "@media print{:root{color-scheme:light;" LIGHT "}}\n"
    "body{margin:0;padding:1rem;font:1rem/1.5 system-ui,sans-serif;color:var(--text);"
    "background:var(--paper)}\n"
    "main{max-width:46rem;margin:0 auto}\n"
    "h1{font-size:1.4rem;line-height:1.25;margin:0 0 .75rem;overflow-wrap:anywhere}\n"
    "h2{font-size:1.15rem;line-height:1.3;margin:2rem 0 .5rem;padding-top:.75rem;"
    "border-top:1px solid var(--rule);overflow-wrap:anywhere}\n"
    "p{margin:.25rem 0;overflow-wrap:anywhere}\n"
    "code{font:.9em/1.5 ui-monospace,monospace;overflow-wrap:anywhere}\n"
    "code.one{white-space:nowrap}\n"
    ".row{display:flex;flex-wrap:wrap;gap:0 1rem;padding:.15rem 0;"
    "border-bottom:1px solid var(--line)}\n"
    ".row>b{font-weight:400;color:var(--second);flex:0 1 14rem;overflow-wrap:anywhere}\n"
    ".row>span{flex:1 1 9rem;overflow-wrap:anywhere}\n"
    ".screen .row>b{flex-basis:7.2rem;font-weight:600;color:inherit}\n"
    /* A verdict, a hazard: weight and frame say as much as the colour. */
    ".tone-bad,.tone-raised,.tone-low{font-weight:700}\n"
    "strong.tone-bad,strong.tone-raised,strong.tone-low{display:inline-block;font-size:1.15em;"
    "padding:.05em .5em;border:2px solid}\n"
    ".tone-bad{color:var(--bad)}\n"
    "strong.tone-bad,.grade>.tone-bad{color:var(--on-bad);background:var(--bad);"
    "border-color:var(--bad)}\n"
    "strong.tone-raised,.grade>.tone-raised{color:var(--on-raised);background:var(--raised);"
    "border-color:var(--raised-edge)}\n"
    ".grade{margin:.4rem 0}\n"
    ".grade>b{font-size:.85em;letter-spacing:.04em;border:1px solid;padding:0 .35em;"
    "margin-right:.4em}\n"
    ".step{margin:1rem 0;padding-left:2.2rem;position:relative;break-inside:avoid}\n"
    ".step>.n{position:absolute;left:0;min-width:1.8rem;color:var(--second);"
    "font-variant-numeric:tabular-nums}\n"
    ".wide{overflow-x:auto;margin:.3rem 0}\n",
    "table{border-collapse:collapse;font-size:.9rem;font-variant-numeric:tabular-nums}\n"
    "th,td{padding:.1rem 1.25rem .1rem 0;text-align:left;vertical-align:top}\n"
    "th:last-child,td:last-child{padding-right:0}\n"
    "th,thead td{font-weight:600;border-bottom:1px solid var(--rule);white-space:pre-line;"
    "vertical-align:bottom}\n"
    ".num{text-align:right;white-space:pre}\n"
    ".word{white-space:nowrap}\n"
    ".step .word{white-space:normal}\n"
    "tr.bad>td:first-child{box-shadow:inset .25rem 0 var(--bad);padding-left:.5rem}\n"
    /* Wider than the column of text: they may use the whole window. */
    "@media (min-width:64em){.from64,.from74,.scrolls{width:max-content;max-width:calc(100vw - 4rem);"
    "min-width:100%;position:relative;left:50%;transform:translateX(-50%)}\n"
    ".step .wide{left:0;transform:none;max-width:100%}}\n",
    "@media screen and (max-width:36em){\n" ROWS_AS_BLOCKS(".from36") "}\n"
    "@media screen and (max-width:48em){\n" ROWS_AS_BLOCKS(".from48") "}\n"
    "@media screen and (max-width:64em){\n" ROWS_AS_BLOCKS(".from64") "}\n"
    "@media screen and (max-width:74em){\n" ROWS_AS_BLOCKS(":is(.from74,.scrolls)") "}\n",
    "@media (max-width:30em){body{padding:.75rem}.row>b{flex-basis:9rem}.step{padding-left:0}"
    ".step>.n{position:static;float:left;min-width:0;margin-right:.5rem}}\n"
    "@media print{body{padding:0;font-size:10pt}main{max-width:none}table{font-size:8.5pt}"
    ".wide{overflow:visible}h2{break-after:avoid}tr{break-inside:avoid}\n"
    "strong.tone-bad,.grade>.tone-bad,strong.tone-raised,.grade>.tone-raised{"
    "color:var(--text);background:none;border-color:var(--text)}\n"
    "strong.tone-bad,.grade>.tone-bad{color:#000;border-width:3px}\n"
    ROWS_AS_BLOCKS(":is(.from64,.from74,.scrolls)") "}\n",
    NULL};
