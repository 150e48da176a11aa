/*
 * The nodes of a search, and those still open as a heap by their bound.
 */
#include "solve/branch_tree.h"

#include "base/alloc.h"
#include "base/try.h"

static enum wf_status grow(void **array, int *room, int count, size_t size, struct wf_error *e)
{
    if (count < *room)
        return WF_OK;
    int wider = *room < 64 ? 64 : 2 * *room;
    void *p = wf_realloc(*array, (size_t)wider, size);
    if (p == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    *array = p;
    *room = wider;
    return WF_OK;
}

static bool before(const struct wf_tree *t, int a, int b)
{
    return t->nodes[a].bound < t->nodes[b].bound ||
           (t->nodes[a].bound <= t->nodes[b].bound && a > b); /* of equals the deeper */
}

enum wf_status wf_tree_push(struct wf_tree *t, int node)
{
    void *heap = t->heap;
    WF_TRY(grow(&heap, &t->heap_room, t->heap_count, sizeof *t->heap, t->e));
    t->heap = heap;
    int at = t->heap_count++;
    while (at > 0 && before(t, node, t->heap[(at - 1) / 2])) {
        t->heap[at] = t->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    t->heap[at] = node;
    return WF_OK;
}

int wf_tree_pop(struct wf_tree *t)
{
    int top = t->heap[0], last = t->heap[--t->heap_count], at = 0;
    for (;;) {
        int child = 2 * at + 1;
        if (child >= t->heap_count)
            break;
        if (child + 1 < t->heap_count && before(t, t->heap[child + 1], t->heap[child]))
            child++;
        if (!before(t, t->heap[child], last))
            break;
        t->heap[at] = t->heap[child];
        at = child;
    }
    t->heap[at] = last;
    return top;
}

enum wf_status wf_tree_add(struct wf_tree *t, struct wf_node node, int *index)
{
    void *nodes = t->nodes;
    WF_TRY(grow(&nodes, &t->node_room, t->node_count, sizeof *t->nodes, t->e));
    t->nodes = nodes;
    *index = t->node_count;
    t->nodes[t->node_count++] = node;
    return WF_OK;
}
