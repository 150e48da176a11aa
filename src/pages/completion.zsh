#compdef wortfit
# zsh completion for wortfit. The tables are made by the build from those of the command.
#
# Each sets `takes`: _wortfit_commands all; _wortfit_options COMMAND; _wortfit_option "COMMAND OPTION";
# _wortfit_operand "COMMAND PLACE"; _wortfit_list NAME.
# TABLES

# The ids that a store file holds. It is read by wortfit itself, so that comments and all are understood.
_wortfit_lots()
{
    [[ -n $1 ]] && wortfit stock "${1/#\~/$HOME}" --json 2>/dev/null | sed -n 's/^ *"id": "\(.*\)",*$/\1/p'
}

# Completes by what is taken: see src/pages/pages.h. $1 takes, $2 the store.
_wortfit_reply()
{
    local kind=${1%% *} list takes
    local -a rest words_
    rest=(${(z)1})
    rest=($rest[2,-1])
    case $kind in
    word) words_=($rest) ;;
    list) _values -s , 'words' $rest; return ;;
    any)
        for list in $rest; do
            case $list in
            file) kind=file ;;
            lot) words_+=($(_wortfit_lots "$2")) ;;
            *) _wortfit_list $list; words_+=(${(z)takes}) ;;
            esac
        done
        ;;
    command) _wortfit_commands all; words_=("${(@f)takes}"); _describe command words_; return ;;
    esac
    (( $#words_ )) && compadd -a words_
    [[ $kind == file || $kind == store ]] && _files
}

_wortfit()
{
    local command= store= previous= takes= word i place=1
    local -a options
    for ((i = 2; i < CURRENT; i++)); do
        word=$words[i]
        if [[ $word == --*=* ]]; then
            [[ $word == --store=* ]] && store=${word#*=}
        elif [[ $word == --* ]]; then
            _wortfit_option "$command ${word#--}"
            [[ -n $takes && $takes != flag ]] || continue
            if ((++i >= CURRENT)); then
                _wortfit_reply "$takes" "$store"
                return
            fi
            [[ $takes == store ]] && store=$words[i]
        elif [[ -z $command ]]; then
            command=$word
        else
            _wortfit_operand "$command $place"
            [[ $takes == store ]] && store=$word
            previous=$word
            ((place++))
        fi
    done
    word=$words[CURRENT]
    if [[ $word == --*=* ]]; then
        _wortfit_option "$command ${${word%%=*}#--}"
        compset -P '*='
        _wortfit_reply "$takes" "$store"
    elif [[ $word == -* ]]; then
        _wortfit_options "$command"
        options=("${(@f)${takes:---help:a short page of help
--version:which one this is}}")
        _describe option options
    elif [[ -z $command ]]; then
        _wortfit_reply command ""
    else
        _wortfit_operand "$command $place $previous"
        [[ -n $takes ]] || _wortfit_operand "$command $place"
        [[ -n $takes ]] || _wortfit_operand "$command *"
        _wortfit_reply "$takes" "$store"
    fi
}

_wortfit "$@"
