/* quote.c: see quote.h. */
#include "base/quote.h"

#include "base/utf8.h"

#include <string.h>

void wf_quote_add(struct wf_text *out, const char *text)
{
    wf_text_add(out, "\"");
    for (size_t left = strlen(text); left > 0;) {
        size_t n = wf_utf8_sequence((const unsigned char *)text, left);
        if (n == 0) {
            wf_text_add(out, "\\ufffd");
            n = 1;
        } else if (*text == '"' || *text == '\\') {
            wf_text_add(out, "\\%c", *text);
        } else if (n == 1 && ((unsigned char)*text < 0x20 || *text == 0x7F)) {
            wf_text_add(out, "\\u%04x", (unsigned)*text);
        } else {
            wf_text_append(out, text, n);
        }
        text += n;
        left -= n;
    }
    wf_text_add(out, "\"");
}
