/* man_whole.c: wortfit(1). */
#include "pages/pages.h"

static const char description[] =
    "From the beer that you want and what is in the store to the weights of\n"
    "grain and hops that give it:\n"
    ".B wortfit\n"
    "finds weights that your scale can weigh, at the lowest cost, with the fewest\n"
    "ingredients or closest to your aims, and proves how good they are.\n"
    "Where no recipe can do it all, it says which wishes stand in the way,\n"
    "and by how much the nearest recipe misses them.\n"
    ".PP\n"
    "A figure is written with its unit, SI or US customary: \"4.5 kg\", \"9 lb\",\n"
    "\"20 L\", \"5 gal\", \"13 SRM\", \"24 EBC\", \"1.055\", \"13.6 P\".\n"
    "A wanted figure is an aim (\"1.055\", \"13 SRM +/\\- 1\"), a range\n"
    "(\"1.050..1.060\") or a limit (\"<= 12 SRM\").\n"
    ".PP\n"
    "The beginning of a command's name will do where no other begins so.\n"
    "Results go to standard output, all else to standard error.\n"
    "A file is written whole or not at all.\n";

static const struct {
    int status;
    const char *text;
} exits[] = {
    {0, "Done."},
    {1, "Wrong usage: an option or a command that is not known, or a value\n"
        "that cannot be."},
    {2, "Bad input: a file or a name that is not right.\n"
        "All that is wrong in a file is told."},
    {3, "No recipe exists, and the nearest was printed; or a recipe misses a wish."},
    {4, "A file could not be read or written, the work was cancelled or not done\n"
        "in its time, or there is an error in wortfit."},
};

static const struct {
    const char *name, *text;
} environment[] = {
    {"NO_COLOR", "Set to anything: results are not emphasised on a terminal."},
    {"TERM", "\"dumb\" does the same."},
    {"TZ", "The time zone that tells which day today is, where no day is given."},
};

static void add_commands(struct wf_text *out)
{
    wf_man_section(out, "COMMANDS");
    for (const struct wf_command *const *c = wf_commands; *c; c++) {
        wf_text_add(out, ".TP\n.BR wortfit\\-%s (1)\n", (*c)->name);
        wf_man_sentence(out, (*c)->summary);
    }
}

static void add_exits(struct wf_text *out)
{
    wf_man_section(out, "EXIT STATUS");
    for (size_t i = 0; i < sizeof exits / sizeof exits[0]; i++)
        wf_text_add(out, ".TP\n.B %d\n%s\n", exits[i].status, exits[i].text);
}

static void add_environment(struct wf_text *out)
{
    wf_man_section(out, "ENVIRONMENT");
    for (size_t i = 0; i < sizeof environment / sizeof environment[0]; i++)
        wf_text_add(out, ".TP\n.B %s\n%s\n", environment[i].name, environment[i].text);
}

static void add_examples(struct wf_text *out)
{
    wf_man_section(out, "EXAMPLES");
    wf_text_add(out, ".nf\n");
    for (const struct wf_command *const *c = wf_commands; *c; c++) {
        wf_man_text(out, (*c)->example);
        wf_text_add(out, "\n");
    }
    wf_text_add(out, ".fi\n");
}

void wf_man_whole(struct wf_text *out)
{
    wf_man_head(out, "wortfit", 1, "works beer recipes out backwards");
    wf_man_section(out, "SYNOPSIS");
    wf_text_add(out, ".B wortfit\n.I COMMAND\n[options]\n.br\n.B wortfit help\n.RI [ COMMAND ]\n"
                     ".br\n.B wortfit \\-\\-version\n");
    wf_man_section(out, "DESCRIPTION");
    wf_text_append(out, description, sizeof description - 1);
    add_commands(out);
    add_exits(out);
    add_environment(out);
    add_examples(out);
    wf_man_section(out, "FILES");
    wf_text_add(out,
                ".TP\n.I share/wortfit/schemas\nJSON schemas of all files that are read and of "
                "all that\n.B \\-\\-json\nwrites.\n");
    wf_man_section(out, "SEE ALSO");
    wf_text_add(out, ".BR wortfit\\-store (5),\n.BR wortfit\\-brewhouse (5),\n"
                     ".BR wortfit\\-target (5),\n.BR wortfit\\-recipe (5)\n");
}
