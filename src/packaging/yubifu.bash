# Completion of yubifu in bash: the program itself says what may follow.

_yubifu() {
  # "=" is a word of its own to bash, and what is offered replaces only the part behind it.
  local words=() word rest last path
  for word in "${COMP_WORDS[@]:1:COMP_CWORD}"; do
    last=$((${#words[@]} - 1))
    if ((last >= 0)) && [[ $word == "=" || ${words[last]} == *= ]]; then
      words[last]+=$word
    else
      words+=("$word")
    fi
  done
  local current=${words[${#words[@]} - 1]}
  COMPREPLY=()
  while IFS=$'\t' read -r word rest; do
    case $word in
      :files | :folders)
        [[ $word == :files ]] && word=file || word=directory
        compopt -o filenames 2>/dev/null
        while IFS= read -r path; do
          COMPREPLY+=("$rest$path")
        done < <(compgen -A "$word" -- "${current#"$rest"}")
        ;;
      *)
        COMPREPLY+=("$word")
        [[ $word != *= ]] || compopt -o nospace 2>/dev/null
        ;;
    esac
  done < <(yubifu complete-word "${words[@]}" 2>/dev/null)
  if [[ $COMP_WORDBREAKS == *=* ]]; then
    COMPREPLY=("${COMPREPLY[@]#"${current%"${current##*=}"}"}")
  fi
}

complete -F _yubifu yubifu
