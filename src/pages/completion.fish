# fish completion for wortfit. The tables are made by the build from those of the command.
#
# Each prints: _wortfit_commands all; _wortfit_options COMMAND; _wortfit_option "COMMAND OPTION";
# _wortfit_operand "COMMAND PLACE"; _wortfit_list NAME.
# TABLES

# The ids that a store file holds. It is read by wortfit itself, so that comments and all are understood.
function _wortfit_lots
    test -n "$argv[1]"
    and wortfit stock (string replace -r '^~' $HOME -- $argv[1]) --json 2>/dev/null |
        string replace -f -r '^ *"id": "(.*)",*$' '$1'
end

# Prints what completes: see src/pages/pages.h. $argv: takes, the word so far, the store.
function _wortfit_reply
    set -l rest (string split ' ' -- $argv[1])
    set -l kind $rest[1]
    set -e rest[1]
    switch $kind
        case word
            printf '%s\n' $rest
        case list
            set -l before "$(string match -r '^.*,' -- $argv[2])"
            printf '%s\n' $before$rest
        case any
            for list in $rest
                switch $list
                    case file
                        set kind file
                    case lot
                        _wortfit_lots $argv[3]
                    case '*'
                        _wortfit_list $list | string split ' '
                end
            end
        case command
            _wortfit_commands all | string replace : \t
    end
    if contains -- $kind file store
        __fish_complete_path $argv[2]
    end
end

function _wortfit_complete
    set -l words (commandline -opc)
    set -l cur (commandline -ct)
    set -l command
    set -l store ''
    set -l previous ''
    set -l place 1
    set -l i 2
    set -l count (count $words)
    while test $i -le $count
        set -l word $words[$i]
        if string match -q -- '--*=*' $word
            string match -q -- '--store=*' $word
            and set store (string replace -- '--store=' '' $word)
        else if string match -q -- '--*' $word
            set -l takes "$(_wortfit_option "$command "(string replace -- -- '' $word))"
            if test -n "$takes" -a "$takes" != flag
                set i (math $i + 1)
                if test $i -gt $count
                    _wortfit_reply "$takes" "$cur" "$store"
                    return
                end
                test "$takes" = store
                and set store $words[$i]
            end
        else if test -z "$command"
            set command $word
        else
            test "$(_wortfit_operand "$command $place")" = store
            and set store $word
            set previous $word
            set place (math $place + 1)
        end
        set i (math $i + 1)
    end
    if string match -q -- '--*=*' $cur
        set -l option (string match -r '^--[^=]*=' -- $cur)
        set -l name (string trim -c '=-' -- $option)
        set -l value (string replace -- $option '' $cur)
        printf '%s\n' $option(_wortfit_reply "$(_wortfit_option "$command $name")" "$value" "$store")
    else if string match -q -- '-*' $cur
        set -l options (_wortfit_options "$command")
        test -n "$options"
        or set options '--help:a short page of help' '--version:which one this is'
        printf '%s\n' $options | string replace : \t
    else if test -z "$command"
        _wortfit_reply command "$cur" ""
    else
        set -l takes (_wortfit_operand "$command $place $previous")
        test -n "$takes"
        or set takes (_wortfit_operand "$command $place")
        test -n "$takes"
        or set takes (_wortfit_operand "$command *")
        _wortfit_reply "$takes" "$cur" "$store"
    end
end

complete -c wortfit -f -a '(_wortfit_complete)'
