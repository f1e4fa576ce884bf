package mic

// Command is a line to type, and what it is for.
type Command struct {
	What string // "Record the first sound card"
	Line string
	Note string // what must be changed in it, or minded; may be empty
}

// Advice lists the commands that record with a general recorder and hand the
// sound to this program, on an operating system as Go names it ("linux",
// "darwin", "windows"). The best comes first; a command that only lists the
// devices comes after those that record. An unknown system gets those that
// exist nearly everywhere.
func Advice(goos string) []Command {
	const ff = "ffmpeg -hide_banner -loglevel error "
	const wav = " -ac 1 -ar 48000 -c:a pcm_s16le -f wav - | seatboard listen -"
	switch goos {
	case "linux":
		return []Command{
			{"Record straight from the sound card", "arecord -D hw:0,0 -f S16_LE -r 48000 -c 1 -t wav - | seatboard listen -", "hw:0,0 is the first card; a card of two channels only wants -c 2. No other program may hold it."},
			{"Record through the sound system", "arecord -D default -f S16_LE -r 48000 -c 1 -t wav - | seatboard listen -", "The rate may be converted on the way."},
			{"List the cards", "arecord -l", ""},
		}
	case "darwin":
		return []Command{
			{"Record with ffmpeg", ff + `-f avfoundation -i ":0"` + wav, "0 is the number of the microphone in the list. Set 48,000 Hz in Audio MIDI Setup."},
			{"Record with sox", "sox -q -d -c 1 -b 16 -t wav - | seatboard listen -", "Takes the input chosen in the system's settings."},
			{"List the microphones", `ffmpeg -hide_banner -f avfoundation -list_devices true -i ""`, ""},
		}
	case "windows":
		return []Command{
			{"Record with ffmpeg", ff + `-f dshow -i audio="Microphone"` + wav, "Put the microphone's name from the list between the quotes. Type it in the Command Prompt: PowerShell before 7.4 spoils sound in a pipe. Switch the microphone's enhancements off."},
			{"List the microphones", "ffmpeg -hide_banner -list_devices true -f dshow -i dummy", ""},
		}
	}
	return []Command{
		{"Record with sox", "sox -q -d -c 1 -b 16 -t wav - | seatboard listen -", "Takes the system's usual input."},
		{"Record with ffmpeg", ff + "-f oss -i /dev/dsp" + wav, "Put the name of your sound device for /dev/dsp."},
	}
}
