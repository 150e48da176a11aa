/* replay.c: a target's main where there is no libFuzzer: runs it on each file named. */
#include "fuzz/fuzz.h"

#include "base/alloc.h"
#include "base/file.h"

int main(int argc, char **argv)
{
    static struct wf_error e;
    for (int i = 1; i < argc; i++) {
        char *text = NULL;
        size_t length = 0;
        if (wf_file_read(argv[i], &text, &length, &e) != WF_OK) {
            fprintf(stderr, "replay: %s\n", e.text);
            return 1;
        }
        const void *bytes = text;
        LLVMFuzzerTestOneInput(bytes, length);
        wf_free(text);
    }
    printf("%d inputs\n", argc - 1);
    return argc > 1 ? 0 : 1;
}
