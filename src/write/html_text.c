#include "html_page.h"

#include <string.h>

/* Bytes as text of a page: nothing in them is markup, glue is a space that does not break, control
 * characters (C0 but the line feed, DEL, C1) are spaces. */
void dw_html_bytes(const dw_html_writer *w, const char *text, size_t length)
{
    for (const char *p = text; p < text + length; ++p) {
        const unsigned char c = (unsigned char)*p;
        switch (c) {
        case '&': dw_strbuf_puts(w->out, "&amp;"); continue;
        case '<': dw_strbuf_puts(w->out, "&lt;"); continue;
        case '>': dw_strbuf_puts(w->out, "&gt;"); continue;
        case '"': dw_strbuf_puts(w->out, "&quot;"); continue;
        case '\'': dw_strbuf_puts(w->out, "&#39;"); continue;
        case DW_GLUE: dw_strbuf_puts(w->out, "&nbsp;"); continue;
        default: break;
        }
        if (c == 0xC2U && (unsigned char)p[1] < 0xA0U && p[1] != '\0') {
            dw_strbuf_puts(w->out, " ");
            ++p;
        } else {
            dw_strbuf_add(w->out, (c < 0x20U && c != '\n') || c == 0x7FU ? " " : p, 1);
        }
    }
}

enum { SHORT_CODE_BYTES = 24 };

/* The same, and what is between two backticks is a word of the command line. */
void dw_html_text(const dw_html_writer *w, const char *text)
{
    for (;;) {
        const char *open = strchr(text, '`');
        const char *close = open != NULL ? strchr(open + 1, '`') : NULL;
        if (close == NULL) break;
        dw_html_bytes(w, text, (size_t)(open - text));
        /* Browsers break lines after the hyphens of an option; a short one stays whole. */
        const size_t length = (size_t)(close - open - 1);
        dw_strbuf_puts(w->out, memchr(open + 1, '-', length) != NULL && length <= SHORT_CODE_BYTES
                                   ? "<code class=\"one\">"
                                   : "<code>");
        dw_html_bytes(w, open + 1, length);
        dw_strbuf_puts(w->out, "</code>");
        text = close + 1;
    }
    dw_html_bytes(w, text, strlen(text));
}
