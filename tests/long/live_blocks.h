/*
 * live_blocks.h: how many blocks of memory the library and this program hold, counted where they
 * ask for them and give them back: the linker wraps the calls (--wrap). What shared libraries hold
 * for themselves is not counted; the resident set has it.
 */
#ifndef WF_LIVE_BLOCKS_H
#define WF_LIVE_BLOCKS_H

long live_blocks(void);

#endif
