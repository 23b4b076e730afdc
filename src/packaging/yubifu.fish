# Completion of yubifu in fish: the program itself says what may follow.

function __yubifu_words
    set -l current (commandline -ct)
    set -l typed (commandline -opc)[2..-1]
    for line in (yubifu complete-word $typed "$current" 2>/dev/null)
        set -l part (string split -m 1 \t -- $line)
        set -l path (string sub -s (math 1 + (string length -- "$part[2]")) -- "$current")
        switch $part[1]
            case :files
                printf '%s\n' "$part[2]"(__fish_complete_path $path)
            case :folders
                printf '%s\n' "$part[2]"(__fish_complete_directories $path)
            case '*'
                printf '%s\n' $line
        end
    end
end

complete -c yubifu -f -a '(__yubifu_words)'
