/*
 * words.h: the words that files use for classes, forms and the like, as NULL-terminated lists for
 * wf_json_word: the index of a word is the value of its enum.
 */
#ifndef WF_WORDS_H
#define WF_WORDS_H

extern const char *const wf_class_words[];         /* enum wf_malt_class */
extern const char *const wf_hop_use_words[];       /* enum wf_hop_use */
extern const char *const wf_form_words[];          /* 0 pellet, 1 whole */
extern const char *const wf_law_words[];           /* enum wf_utilisation_law */
extern const char *const wf_family_words[];        /* yeasts' families */
extern const char *const wf_recipe_status_words[]; /* enum wf_recipe_status */
extern const char *const wf_dimension_words[];     /* enum wf_dimension, in recipe files */

#endif
