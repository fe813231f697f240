bayleaf.words("cu",{"customer":"2:1,7,v","cut":"0:g;2:h,i;3:9","cutout":"2:0,h,i"});
