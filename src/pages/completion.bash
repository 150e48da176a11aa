# bash completion for wortfit. The tables are made by the build from those of the command.
#
# Each sets `takes`: _wortfit_commands all; _wortfit_options COMMAND; _wortfit_option "COMMAND OPTION";
# _wortfit_operand "COMMAND PLACE"; _wortfit_list NAME.
# TABLES

# The ids that a store file holds. It is read by wortfit itself, so that comments and all are understood.
_wortfit_lots()
{
    [[ $1 ]] && wortfit stock "${1/#\~/$HOME}" --json 2>/dev/null | sed -n 's/^ *"id": "\(.*\)",*$/\1/p'
}

# Fills COMPREPLY by what is taken: see src/pages/pages.h. $1 takes, $2 the word so far, $3 the store.
_wortfit_reply()
{
    local kind=${1%% *} rest='' words='' list takes before='' IFS=$' \t\n'
    [[ $1 == *' '* ]] && rest=${1#* }
    case $kind in
    word) words=$rest ;;
    list)
        [[ $2 == *,* ]] && before=${2%,*},
        words=$rest
        compopt -o nospace 2>/dev/null
        ;;
    any)
        for list in $rest; do
            case $list in
            file) kind="file" ;;
            lot) words+=" $(_wortfit_lots "$3")" ;;
            *) _wortfit_list "$list" && words+=" $takes" ;;
            esac
        done
        ;;
    command)
        _wortfit_commands all
        words=$(printf '%s\n' "$takes" | sed 's/:.*//')
        ;;
    esac
    mapfile -t COMPREPLY < <(compgen -P "$before" -W "$words" -- "${2#"$before"}" | sort -u)
    if [[ $kind == file || $kind == store ]]; then
        compopt -o filenames 2>/dev/null
        mapfile -t -O ${#COMPREPLY[@]} COMPREPLY < <(compgen -f -- "$2")
    fi
}

_wortfit()
{
    local cur=${COMP_WORDS[COMP_CWORD]} command='' store='' previous='' takes='' word name i place=1
    COMPREPLY=()
    [[ $cur == '=' ]] && cur=
    for ((i = 1; i < COMP_CWORD; i++)); do
        word=${COMP_WORDS[i]}
        if [[ $word == --* ]]; then
            name=${word#--}
            _wortfit_option "$command $name"
            [[ $takes && $takes != flag ]] || continue
            [[ ${COMP_WORDS[i + 1]} == '=' ]] && ((i++))
            if ((++i >= COMP_CWORD)); then
                _wortfit_reply "$takes" "$cur" "$store"
                return
            fi
            [[ $takes == store ]] && store=${COMP_WORDS[i]}
        elif [[ -z $command ]]; then
            command=$word
        else
            _wortfit_operand "$command $place"
            [[ $takes == store ]] && store=$word
            previous=$word
            ((place++))
        fi
    done
    if [[ $cur == -* ]]; then
        _wortfit_options "$command"
        takes=$(printf '%s\n' "${takes:---help:
--version:}" | sed 's/:.*//')
        _wortfit_reply "word ${takes//$'\n'/ }" "$cur" ""
    elif [[ -z $command ]]; then
        _wortfit_reply command "$cur" ""
    else
        _wortfit_operand "$command $place $previous"
        [[ $takes ]] || _wortfit_operand "$command $place"
        [[ $takes ]] || _wortfit_operand "$command *"
        _wortfit_reply "$takes" "$cur" "$store"
    fi
}

complete -F _wortfit wortfit
