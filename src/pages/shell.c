/* shell.c: tables as functions of a shell: one argument in, a text out. */
#include "pages/pages.h"

#include <string.h>

/* In single quotes, whatever it holds. */
static void add_quoted(struct wf_text *out, enum wf_shell shell, const char *text)
{
    wf_text_add(out, "'");
    for (; *text; text++)
        if (*text == '\'')
            wf_text_add(out, shell == WF_SHELL_FISH ? "\\'" : "'\\''");
        else if (*text == '\\' && shell == WF_SHELL_FISH)
            wf_text_add(out, "\\\\");
        else
            wf_text_append(out, text, 1);
    wf_text_add(out, "'");
}

void wf_shell_open(struct wf_text *out, enum wf_shell shell, const char *name)
{
    wf_text_add(out,
                shell == WF_SHELL_FISH ? "\nfunction %s\n    switch $argv[1]\n"
                                       : "\n%s()\n{\n    case $1 in\n",
                name);
}

void wf_shell_row(struct wf_text *out, enum wf_shell shell, const char *key, const char *value)
{
    bool fish = shell == WF_SHELL_FISH;
    wf_text_add(out, fish ? "        case " : "    ");
    add_quoted(out, shell, key);
    wf_text_add(out, fish ? "\n            echo " : ") takes=");
    add_quoted(out, shell, value);
    wf_text_add(out, fish ? "\n" : " ;;\n");
}

void wf_shell_close(struct wf_text *out, enum wf_shell shell)
{
    wf_text_add(out, shell == WF_SHELL_FISH ? "    end\nend\n" : "    *) takes= ;;\n    esac\n}\n");
}
